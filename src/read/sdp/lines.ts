import { append } from '../../collections/group-by.js';
import { quote, type ProblemList } from '../problem-list.js';
import { slice, spanOf, trim, type Piece } from './piece.js';

/** One `type=value` line; `value` is without blanks around it. */
export interface Line {
  readonly type: string;
  readonly value: Piece;
  readonly whole: Piece;
}

/** A session or one medium of it: its lines after `v=` or `m=`, attributes by name. */
export interface Section {
  readonly lines: readonly Line[];
  /** Values after the colon, in order; a flag such as `a=recvonly` has an empty one. */
  readonly attributes: ReadonlyMap<string, readonly Piece[]>;
}

export interface MediaSection extends Section {
  readonly line: Line;
}

export interface Description {
  readonly session: Section;
  readonly media: readonly MediaSection[];
}

/**
 * Splits a session description into its sections (RFC 8866 §5). Undefined when it does not begin as one. Line ends
 * of any kind, a byte order mark and blank lines are accepted: they do not change what is meant.
 */
export function readSections(text: string, problems: ProblemList): Description | undefined {
  const lines = linesOf(text);
  const first = lines.next();
  if (first.done === true) {
    problems.add({ start: 0, end: 0 }, 'the file is empty', 'begin a session description with the line `v=0`');
    return undefined;
  }
  if (!isVersion0(first.value, problems)) return undefined;
  const session = createSection();
  const media: MediaSection[] = [];
  let current = session;
  for (const whole of lines) {
    const line = readLine(whole);
    if (line === undefined) {
      problems.add(
        spanOf(whole),
        `${quote(whole.text)} is no line of a session description (RFC 8866 §5)`,
        'write one letter, `=` and the value; join a folded line to the one before it',
      );
      if (problems.full) break;
    } else if (line.type === 'm') {
      const section = createSection();
      media.push({ line, ...section });
      current = section;
    } else addLine(current, line);
  }
  return { session, media };
}

/** The values of attribute `name`; for the flag form, an empty piece. */
export function attributes(section: Section, name: string): readonly Piece[] {
  return section.attributes.get(name) ?? [];
}

function* linesOf(text: string): Generator<Piece, undefined> {
  const withoutMark = text.startsWith('\ufeff') ? 1 : 0;
  const pattern = /[^\r\n]+/g;
  pattern.lastIndex = withoutMark;
  for (let match = pattern.exec(text); match !== null; match = pattern.exec(text)) {
    if (match[0].trim() !== '') yield { text: match[0].trimEnd(), start: match.index };
  }
}

function isVersion0(whole: Piece, problems: ProblemList): boolean {
  const line = readLine(whole);
  if (line?.type === 'v' && line.value.text === '0') return true;
  if (line?.type === 'v') {
    problems.add(
      spanOf(line.value),
      `version ${quote(line.value.text)} of the session description protocol does not exist (RFC 8866 §5.1)`,
      'write `v=0`',
    );
  } else {
    problems.add(
      spanOf(whole.text.length > 60 ? slice(whole, 0, 60) : whole),
      'the file does not begin with `v=0`, so it is no session description (RFC 8866 §5)',
      'begin it with the line `v=0`, or remove the file from the plan',
    );
  }
  return false;
}

function readLine(whole: Piece): Line | undefined {
  const match = /^(\S)=/u.exec(whole.text);
  const type = match?.[1];
  return type === undefined ? undefined : { type, value: trim(slice(whole, type.length + 1)), whole };
}

interface OpenSection {
  readonly lines: Line[];
  readonly attributes: Map<string, Piece[]>;
}

function createSection(): OpenSection {
  return { lines: [], attributes: new Map() };
}

function addLine(section: OpenSection, line: Line): void {
  section.lines.push(line);
  if (line.type !== 'a') return;
  const colon = line.value.text.indexOf(':');
  const name = colon < 0 ? line.value.text : line.value.text.slice(0, colon).trimEnd();
  const value = colon < 0 ? slice(line.value, line.value.text.length) : trim(slice(line.value, colon + 1));
  append(section.attributes, name, value);
}
