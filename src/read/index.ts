/** Any readable file to a document in the shape of a plan. */
import { nearest } from '../collections/nearest.js';
import { startOf } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import type { Schema } from './checks/check.js';
import { check } from './checks/plan.js';
import { readJson } from './json.js';
import { READERS, type Reader } from './readers.js';
import type { ReadResult } from './result.js';
import { decode } from './text.js';
import { validate } from './validate.js';
import { readYaml } from './yaml.js';

/** A file that is read, as text or as its bytes. */
export type Input = TextInput | BytesInput;

export interface NamedInput {
  /** The file as the user named it. */
  readonly name: string;
  /** Name of its reader. Absent: told from the name's ending, else from how the content starts. */
  readonly format?: string | undefined;
}

export interface TextInput extends NamedInput {
  readonly text: string;
}

export interface BytesInput extends NamedInput {
  readonly bytes: Uint8Array;
}

const PLAN: Schema = { name: 'plan', check };

/** Reads one input and holds it against the schema. Never throws on bad input. */
export function readDocument(input: Input, readers: readonly Reader[] = READERS): ReadResult {
  const reader = readerOf(input, readers);
  return reader === undefined ? failed(noReader(input, readers)) : heldAgainst(PLAN, readAs(reader, input));
}

/** What is written as a tree of keys, YAML or JSON, held against a schema. Never throws on bad input. */
export function readTree(input: Input, schema: Schema): ReadResult {
  return heldAgainst(schema, readAnyTree(input));
}

/** The same for what has no schema. */
export function readAnyTree(input: Input): ReadResult {
  const text = textOf(input);
  if (typeof text !== 'string') return failed(text);
  return (readerOf(input)?.name === 'json' ? readJson : readYaml)(input.name, text);
}

/** The reader of an input; undefined where it asks for one that there is not. */
export function readerOf(input: Input, readers: readonly Reader[] = READERS): Reader | undefined {
  const { name, format } = input;
  if (format !== undefined) return readers.find((one) => one.name === format || one.endings.includes(format));
  return readerByName(name, readers) ?? readerByStart(input, readers) ?? readers[0];
}

/** The reader that takes the ending of a file name. */
export function readerByName(name: string, readers: readonly Reader[] = READERS): Reader | undefined {
  const ending = /\.([^./\\]+)$/.exec(name)?.[1]?.toLowerCase();
  return ending === undefined ? undefined : readers.find(({ endings }) => endings.includes(ending));
}

/** Whether the rest may be judged where this input can't be read. */
export function isSparable(input: Input): boolean {
  return readerOf(input)?.sparable ?? false;
}

/** A file's bytes as what its reader takes; or why they are not. */
export function inputOf(
  name: string,
  bytes: Uint8Array,
  format?: string,
  readers: readonly Reader[] = READERS,
): Input | Problem {
  const raw: BytesInput = { name, bytes, format };
  if (readerOf(raw, readers)?.takes === 'bytes') return raw;
  const text = textOf(raw);
  return typeof text === 'string' ? { name, text, format } : text;
}

function readerByStart(input: Input, readers: readonly Reader[]): Reader | undefined {
  const whole = 'text' in input ? input.text : String.fromCharCode(...input.bytes.subarray(0, MOST_START));
  const start = whole.slice(0, MOST_START).trimStart();
  return readers.find(({ starts }) => starts(start));
}

/** Characters of a file that tell what it is. */
const MOST_START = 200;

function readAs(reader: Reader, input: Input): ReadResult {
  if (reader.takes === 'bytes')
    return reader.read(input.name, 'bytes' in input ? input.bytes : new TextEncoder().encode(input.text));
  const text = textOf(input);
  return typeof text === 'string' ? reader.read(input.name, text) : failed(text);
}

function textOf(input: Input): string | Problem {
  if ('text' in input) return input.text;
  const decoded = decode(input.name, input.bytes);
  return 'text' in decoded ? decoded.text : decoded.problem;
}

function heldAgainst(schema: Schema, read: ReadResult): ReadResult {
  if (read.document === undefined) return read;
  const problems = validate(read.document, schema);
  return problems.length === 0 ? read : { document: undefined, problems };
}

function noReader({ name, format = '' }: Input, readers: readonly Reader[]): Problem {
  const names = readers.map((one) => one.name);
  const close = nearest(format, names);
  return {
    at: startOf(name),
    what: `nothing reads the format \`${format}\``,
    instead: `${close === undefined ? '' : `say \`${close}\`; `}there are ${names.join(', ')}`,
  };
}

function failed(problem: Problem): ReadResult {
  return { document: undefined, problems: [problem] };
}
