/** What the program owes whoever runs it, whatever it is given. */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { Ajv, type ValidateFunction } from 'ajv';
import { parse as parseCsv } from 'csv-parse/sync';
import { run, type Run, type RunOptions } from '../tools/run-program.js';
import { bytesOf, fault, type Content, type Files } from './case.js';
import type { Json } from './json.js';

/** Commands to a terminal, and what turns or hides text. Not the program's own list, which could lack one. */
const RAW =
  /[\0-\x09\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]|[\ud800-\udfff](?<![\ud800-\udbff][\udc00-\udfff])(?![\udc00-\udfff])/u;
const TRACE = /\n\s+at .*(?:\.[jt]s:\d+|node:internal)/;
const UNCAUGHT =
  /TypeError|RangeError|ReferenceError|SyntaxError|undefined is not|is not a function|Maximum call stack/;
/** What a spreadsheet runs: OWASP, CSV Injection. */
const FORMULA = /^[=+\-@\t\r]/;

/** Processor time of one command on one small input. */
const MOST_MS = 10_000;
/** What stays in use after one command. */
const MOST_HEAP = 1_500_000_000;

export type Kind = 'text' | 'json' | 'csv' | 'none';

export interface Told extends Run {
  /** What a JSON answer says; else undefined. */
  readonly data: Json | undefined;
}

const schemas = new Map<string, ValidateFunction>();

/** Runs a command line in the folder of the files, and holds what it says to all that is promised of every one. */
export async function told(
  words: readonly string[],
  kind: Kind,
  files: Files,
  options: RunOptions & { readonly schema?: string },
): Promise<Told> {
  const line = `rigproof ${words.join(' ')}`;
  const began = process.cpuUsage();
  let done: Run;
  try {
    done = await run(words, options);
  } catch (error) {
    return fault(`uncaught error: ${line}`, error instanceof Error ? (error.stack ?? '') : String(error));
  }
  const { user, system } = process.cpuUsage(began);
  if ((user + system) / 1000 > MOST_MS) fault(`took ${Math.round((user + system) / 1000)} ms: ${line}`);
  if (process.memoryUsage().heapUsed > MOST_HEAP) fault(`took too much memory: ${line}`);
  const { status, stdout, stderr } = done;
  const said = `${stdout}\n${stderr}`;
  if (![0, 1, 2].includes(status)) fault(`exit code ${status}: ${line}`, said.slice(0, 3000));
  if (TRACE.test(said)) fault(`stack trace: ${line}`, said.slice(0, 3000));
  if (UNCAUGHT.test(stderr)) fault(`an error of the program itself: ${line}`, stderr.slice(0, 3000));
  if (status === 2 && said.trim() === '') fault(`exit code 2 without a word: ${line}`);
  raw('standard error', stderr, line);
  if (kind === 'text') raw('standard output', stdout, line);
  // Nothing is said where the words were refused.
  const empty = status === 2 && stdout === '' && stderr !== '';
  if (kind === 'csv' && !empty) table(stdout, line);
  const data = kind === 'json' && !empty ? json(stdout, line) : undefined;
  if (data !== undefined && options.schema !== undefined) conforms(data, options.schema, line);
  positions(data, files, line);
  return { ...done, data };
}

function raw(where: string, text: string, line: string): void {
  const found = RAW.exec(text);
  if (found !== null)
    fault(
      `${where} carries U+${found[0].charCodeAt(0).toString(16)} raw: ${line}`,
      JSON.stringify(text.slice(Math.max(0, found.index - 80), found.index + 20)),
    );
}

function json(text: string, line: string): Json {
  try {
    return JSON.parse(text) as Json;
  } catch (error) {
    return fault(`JSON that can't be read: ${line}`, String(error), text.slice(0, 400));
  }
}

function conforms(data: Json, name: string, line: string): void {
  const check =
    schemas.get(name) ??
    new Ajv({ strict: false, validateFormats: false }).compile(
      JSON.parse(readFileSync(`schemas/${name}.schema.json`, 'utf8')) as object,
    );
  schemas.set(name, check);
  if (!check(data))
    fault(`not as schemas/${name}.schema.json says: ${line}`, JSON.stringify(check.errors?.slice(0, 3)));
}

/** RFC 4180 as another library reads it, and no cell that a spreadsheet runs. */
export function table(text: string, line: string): void {
  let rows: readonly (readonly string[])[];
  try {
    rows = parseCsv(text, { relax_column_count: false });
  } catch (error) {
    return fault(`CSV that can't be read: ${line}`, String(error), text.slice(0, 400));
  }
  for (const cell of rows.flat()) {
    if (FORMULA.test(cell) && !/^[-+]?[\d.]+(?:e[-+]?\d+)?$/i.test(cell))
      fault(`a formula in CSV: ${line}`, JSON.stringify(cell));
    raw('CSV', cell, line);
  }
}

/** Every place that an answer names lies inside the file it names. */
function positions(data: Json | undefined, files: Files, line: string): void {
  const open: (Json | undefined)[] = [data];
  while (open.length > 0) {
    const one = open.pop();
    if (one === null || typeof one !== 'object') continue;
    open.push(...Object.values<Json>(one as object as Readonly<Record<string, Json>>));
    const { file, line: at, column } = one as Readonly<Record<string, Json>>;
    if (typeof file !== 'string' || typeof at !== 'number' || typeof column !== 'number') continue;
    const content = files[basename(file)];
    if (content !== undefined && !inside(linesOf(content), one as Readonly<Record<string, Json>>))
      fault(`a place outside its file: ${line}`, JSON.stringify(one));
  }
}

interface Placed {
  readonly line?: Json;
  readonly column?: Json;
  readonly endLine?: Json;
  readonly endColumn?: Json;
}

export function inside(lines: readonly string[], at: Placed): boolean {
  const [line, column, endLine, endColumn] = [at.line, at.column, at.endLine ?? at.line, at.endColumn ?? at.column].map(
    Number,
  );
  const within = (row = 0, cell = 0): boolean =>
    row >= 1 && cell >= 1 && row <= lines.length && cell <= (lines[row - 1]?.length ?? 0) + 1;
  return (
    within(line, column) &&
    within(endLine, endColumn) &&
    (Number(endLine) > Number(line) || Number(endColumn) >= Number(column))
  );
}

/** Lines as editors count them. */
export function linesOf(content: Content): readonly string[] {
  const bytes = bytesOf(content);
  const mark =
    bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : 'utf-8';
  return new TextDecoder(mark).decode(bytes).split(/\r\n|\n|\r/);
}

/** A message at a place of a side file says a place that is there. */
export function messagePlace(stderr: string, name: string, content: Content): void {
  for (const [, line, column] of stderr.matchAll(
    new RegExp(`${name.replaceAll('.', '\\.')}[ :](?:line )?(\\d+)(?:, column |:)(\\d+)`, 'g'),
  ))
    if (!inside(linesOf(content), { line: Number(line), column: Number(column) }))
      fault(`a message names a place outside ${name}`, stderr.slice(0, 400));
}
