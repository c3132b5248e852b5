/**
 * Session descriptions (SDP: RFC 8866, which obsoletes RFC 4566; source filters RFC 4570; redundant streams RFC 7104;
 * clocks RFC 7273) as streams of the plan.
 *
 * The lines are split here because the libraries for SDP keep no positions, and lose facts this tool judges: a second
 * `a=source-filter` overwrites the first, a clock identity written with spaces is cut short, and an address count stays
 * part of the address. One of them checks this reader in the tests.
 *
 * What does not change where a stream goes is tolerated: unknown attributes and line types, line ends of any kind,
 * blank lines, a trailing semicolon. What leaves open where a stream goes is a problem.
 */
import type { Span, TextDocument } from '../../source/text-document.js';
import { createUniqueNames, toName } from '../names.js';
import { createProblemList } from '../problem-list.js';
import type { ReadResult } from '../result.js';
import { createTree } from '../tree.js';
import { readSections, type Description } from './lines.js';
import { spanOf } from './piece.js';
import { readSession, readStreams, sessionLine } from './streams.js';

/** The streams of one session description. Never throws. */
export function readSdp(name: string, text: string): ReadResult<TextDocument> {
  const problems = createProblemList(name, text);
  const tree = createTree();
  const description = readSections(text, problems);
  if (description === undefined) return { document: undefined, problems: problems.all };
  const streams = readStreams(description, tree, problems);
  if (problems.all.length > 0) return { document: undefined, problems: problems.all };

  const title = readTitle(description, name);
  const session = readSession(description);
  const unique = createUniqueNames();
  const items = streams.map(({ label, line, entries }) => {
    const streamName = toName(streams.length === 1 ? title.value : `${title.value} ${label}`);
    const span = title.span ?? spanOf(line.whole);
    return tree.mapping(spanOf(line.whole), { name: { value: unique(streamName), span }, ...entries, session });
  });
  const whole = { start: 0, end: text.length };
  const root = tree.mapping(whole, { streams: tree.sequence(whole, items) });
  return { document: tree.document({ name, format: 'sdp', text }, root), problems: [] };
}

interface Title {
  readonly value: string;
  /** Undefined when the file does not write it. */
  readonly span: Span | undefined;
}

/** `s=`, or the name of the file where it is empty or `-`, which RFC 8866 §5.3 has for sessions without one. */
function readTitle(description: Description, file: string): Title {
  const line = sessionLine(description, 's');
  const title = line === undefined ? '' : toName(line.value.text);
  if (line !== undefined && title !== '' && title !== '-') return { value: title, span: spanOf(line.value) };
  return { value: toName(baseName(file)) || 'stream', span: undefined };
}

function baseName(file: string): string {
  const last = file.slice(Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\')) + 1);
  return last.replace(/(.)\.[^.]*$/, '$1');
}
