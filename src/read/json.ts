/**
 * JSON through `JSON.parse`. Positions, duplicate keys and the place of a syntax error come from a scanner of our own:
 * no library scans at the speed this needs (it may run on every lint of a plan of hundreds of megabytes).
 */
import type { Container } from '../source/document.js';
import { textDocument, type ContainerSpans, type Span, type TextDocument } from '../source/text-document.js';
import { LineIndex } from '../source/line-index.js';
import { toLocation } from '../source/locate.js';
import type { ReadResult } from './result.js';
import { waysTo } from './ways.js';

const MOST_DEPTH = 400;

export function readJson(name: string, text: string): ReadResult<TextDocument> {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return fault(name, text, scan(text, undefined, new Set()).fault);
  }
  if (mayRepeatKeys(value, text)) {
    const { fault: found } = scan(text, undefined, new Set());
    if (found !== undefined) return fault(name, text, found);
  }
  const spans: TextDocument['spans'] = (wanted) => scan(text, value, wanted).found;
  const document = textDocument({ name, format: 'json', text, value, spans });
  return { document, problems: [] };
}

interface Fault {
  readonly offset: number;
  readonly what: string;
  readonly instead: string;
}

function fault(name: string, text: string, found: Fault | undefined): ReadResult<TextDocument> {
  const { offset, what, instead } = found ?? {
    offset: 0,
    what: 'this is not valid JSON',
    instead: 'check the file with a JSON editor',
  };
  return {
    document: undefined,
    problems: [{ at: toLocation(name, new LineIndex(text), { start: offset, end: offset }), what, instead }],
  };
}

/** JSON.parse keeps the last of two equal keys without a word; fewer keys in the tree than in the text give it away. */
function mayRepeatKeys(value: unknown, text: string): boolean {
  const keys = countKeys(value);
  // The first count is several times cheaper, and never too low.
  return keys !== countKeyEnds(text) && keys !== countColons(text);
}

function countKeys(root: unknown): number {
  let keys = 0;
  const stack: unknown[] = [root];
  while (stack.length > 0) {
    const value = stack.pop();
    if (typeof value !== 'object' || value === null) continue;
    if (Array.isArray(value)) {
      for (const item of value) if (typeof item === 'object' && item !== null) stack.push(item);
    } else {
      for (const key in value) {
        keys++;
        const item = (value as Readonly<Record<string, unknown>>)[key];
        if (typeof item === 'object' && item !== null) stack.push(item);
      }
    }
  }
  return keys;
}

/**
 * At least the keys of a text that is known to be valid JSON: colons after a quote, white space apart. A text that begins
 * with a colon counts as one too many.
 */
function countKeyEnds(text: string): number {
  if (text.includes('\\')) return Infinity; // an escaped quote ends no key
  let ends = 0;
  for (let colon = text.indexOf(':'); colon >= 0; colon = text.indexOf(':', colon + 1)) {
    let before = colon - 1;
    while (isSpace(text.charCodeAt(before))) before--;
    if (text.charCodeAt(before) === 34) ends++;
  }
  return ends;
}

function isSpace(code: number): boolean {
  return code === 32 || code === 10 || code === 13 || code === 9;
}

/** Colons outside strings of a text that is known to be valid JSON. */
function countColons(text: string): number {
  let colons = 0;
  let position = 0;
  while (true) {
    const quote = text.indexOf('"', position);
    const end = quote < 0 ? text.length : quote;
    for (let i = position; i < end; i++) if (text.charCodeAt(i) === 58) colons++;
    if (quote < 0) return colons;
    position = endOfString(text, quote) + 1;
  }
}

/** Offset of the closing quote of the string that opens at `quote`; the text's length when it never closes. */
function endOfString(text: string, quote: number): number {
  let end = quote;
  while (true) {
    end = text.indexOf('"', end + 1);
    if (end < 0) return text.length;
    let slashes = 0;
    while (text.charCodeAt(end - 1 - slashes) === 92) slashes++;
    if (slashes % 2 === 0) return end;
  }
}

interface Scan {
  readonly found: ReadonlyMap<Container, ContainerSpans>;
  readonly fault: Fault | undefined;
}

class ScanFault extends Error {
  readonly fault: Fault;

  constructor(fault: Fault) {
    super(fault.what);
    this.fault = fault;
  }
}

/** Thrown where nothing is left to look for. */
const ALL_FOUND = new Error('all is found');

/** Scans a text beside its value, as far as something is wanted of it; the whole where the value is absent, for faults. */
function scan(text: string, root: unknown, wanted: ReadonlySet<Container>): Scan {
  const found = new Map<Container, ContainerSpans>();
  /** Text that has been parsed has no faults to look for. */
  const known = root !== undefined;
  const ways = known ? waysTo(root, wanted, MOST_DEPTH) : undefined;
  let position = 0;
  try {
    scanValue(root, 0);
    skipSpace();
    if (position < text.length)
      stop('there is text after the end of the plan', 'delete it, or put it in a file of its own');
    return { found, fault: undefined };
  } catch (error) {
    if (error === ALL_FOUND) return { found, fault: undefined };
    if (error instanceof ScanFault) return { found, fault: error.fault };
    throw error;
  }

  function stop(what: string, instead: string, offset = position): never {
    throw new ScanFault({ offset: Math.min(offset, text.length), what, instead });
  }

  function skipSpace(): void {
    while (true) {
      if (!isSpace(text.charCodeAt(position))) return;
      position++;
    }
  }

  function scanValue(value: unknown, depth: number): Span {
    skipSpace();
    const start = position;
    const code = text.charCodeAt(position);
    if (depth > MOST_DEPTH)
      stop(`this file is nested more than ${MOST_DEPTH} levels deep`, 'keep the plan flat, as the schema shows');
    if ((code === 123 || code === 91) && ways !== undefined && !(isContainer(value) && ways.has(value)))
      skipContainer();
    else if (code === 123) scanMapping(value, depth);
    else if (code === 91) scanSequence(value, depth);
    else if (code === 34) scanString();
    else scanWord();
    return { start, end: position };
  }

  /** Over one in which nothing is wanted, of a text without faults. */
  function skipContainer(): void {
    let open = 0;
    do {
      const code = text.charCodeAt(position);
      if (code === 34) position = endOfString(text, position);
      else if (code === 123 || code === 91) open++;
      else if (code === 125 || code === 93) open--;
      position++;
    } while (open > 0);
  }

  function keep(container: Container, spans: ContainerSpans): void {
    found.set(container, spans);
    if (known && found.size === wanted.size) throw ALL_FOUND;
  }

  function scanString(): void {
    const start = position;
    const end = endOfString(text, start);
    if (known) {
      position = end + 1;
      return;
    }
    if (end >= text.length) stop('this text has no closing quote', 'close it with `"`', start);
    const raw = text.slice(start + 1, end);
    // RFC 8259 §7 forbids exactly these inside a string.
    const control = /[\u0000-\u001f]/.exec(raw);
    if (control !== null)
      stop(
        'a line break or control character stands inside a text',
        'close the quote, or write it as an escape such as `\\n`',
        start + 1 + control.index,
      );
    const escape = /\\(?!["\\/bfnrt]|u[0-9a-fA-F]{4})/.exec(raw.replace(/\\\\/g, '__'));
    if (escape !== null)
      stop('this escape is not known to JSON', 'write a backslash as `\\\\`', start + 1 + escape.index);
    position = end + 1;
  }

  function scanWord(): void {
    if (known) {
      // Numbers and words end at a comma, a bracket or white space, all of which are below `-` or are `]` and `}`.
      for (
        let code = text.charCodeAt(position);
        code > 44 && code !== 93 && code !== 125;
        code = text.charCodeAt(position)
      )
        position++;
      if (text.charCodeAt(position) === 43) {
        position++; // the plus of an exponent
        scanWord();
      }
      return;
    }
    const word = /[^\s,:{}[\]"]*/y;
    word.lastIndex = position;
    const text_ = word.exec(text)?.[0] ?? '';
    if (position >= text.length)
      stop('the file ends too early', 'close every `{` and `[`; the file may have been cut off');
    if (!/^(?:true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?)$/.test(text_)) {
      stop(
        text_ === ''
          ? `a value is missing before \`${text.charAt(position)}\``
          : `\`${text_.slice(0, 40)}\` is not a JSON value`,
        'write text in double quotes; numbers, true, false and null without',
      );
    }
    position += text_.length;
  }

  /** The name, where the key that was scanned last is written just so: mostly it is the next one of the container. */
  function nameAt(name: string | undefined, keyStart: number): string | undefined {
    return name?.length === position - keyStart - 2 && text.startsWith(name, keyStart + 1) ? name : undefined;
  }

  function scanMapping(value: unknown, depth: number): void {
    const container = isContainer(value) ? value : undefined;
    const entries =
      container !== undefined && wanted.has(container)
        ? new Map<string | number, { key: Span; value: Span }>()
        : undefined;
    const seen = known ? undefined : new Set<string>();
    const names = container === undefined ? undefined : Object.keys(container);
    let nth = 0;
    const start = position++;
    skipSpace();
    if (text.charCodeAt(position) === 125) position++;
    else {
      while (true) {
        skipSpace();
        const keyStart = position;
        if (position >= text.length)
          stop('the file ends too early', 'close every `{` and `[`; the file may have been cut off');
        if (text.charCodeAt(position) !== 34)
          stop('a key is missing here', 'write the key in double quotes; delete a comma before `}`');
        scanString();
        const keySpan = { start: keyStart, end: position };
        const key = nameAt(names?.[nth++], keyStart) ?? keyOf(text.slice(keyStart + 1, position - 1));
        if (seen?.has(key) === true)
          stop(`the key \`${key}\` stands twice in one entry`, 'delete one of the two', keyStart);
        seen?.add(key);
        skipSpace();
        if (text.charCodeAt(position) !== 58) stop('a colon is missing after this key', 'write `"key": value`');
        position++;
        const child = container === undefined ? undefined : (container as Readonly<Record<string, unknown>>)[key];
        const span = scanValue(child, depth + 1);
        entries?.set(key, { key: keySpan, value: span });
        if (next(125)) break;
      }
    }
    if (entries !== undefined && container !== undefined) keep(container, { self: { start, end: position }, entries });
  }

  function scanSequence(value: unknown, depth: number): void {
    const container = isContainer(value) ? value : undefined;
    const entries =
      container !== undefined && wanted.has(container) ? new Map<string | number, { value: Span }>() : undefined;
    const start = position++;
    skipSpace();
    if (text.charCodeAt(position) === 93) position++;
    else {
      for (let index = 0; ; index++) {
        const child = container === undefined ? undefined : (container as readonly unknown[])[index];
        const span = scanValue(child, depth + 1);
        entries?.set(index, { value: span });
        if (next(93)) break;
      }
    }
    if (entries !== undefined && container !== undefined) keep(container, { self: { start, end: position }, entries });
  }

  /** Steps over a comma (false) or the closing bracket (true). */
  function next(close: number): boolean {
    skipSpace();
    const code = text.charCodeAt(position);
    if (code === close) {
      position++;
      return true;
    }
    if (position >= text.length)
      stop('the file ends too early', 'close every `{` and `[`; the file may have been cut off');
    if (code !== 44)
      stop(`a comma or \`${String.fromCharCode(close)}\` is missing here`, 'separate entries with commas');
    position++;
    return false;
  }
}

/** Text between the quotes of a key. */
function keyOf(raw: string): string {
  return raw.includes('\\') ? (JSON.parse(`"${raw}"`) as string) : raw;
}

function isContainer(value: unknown): value is Container {
  return typeof value === 'object' && value !== null;
}
