/** Any readable text to a document in the shape of a plan. */
import type { DocumentFormat } from '../source/document.js';
import { readCsv } from './csv.js';
import { readJson } from './json.js';
import type { Schema } from './checks/check.js';
import { check } from './checks/plan.js';
import type { ReadResult } from './result.js';
import { readSdp } from './sdp/read-sdp.js';
import { validate } from './validate.js';
import { readYaml } from './yaml.js';

export interface Input {
  /** The file as the user named it. */
  readonly name: string;
  readonly text: string;
  /** Absent: told from the name's ending, else from how the text starts. */
  readonly format?: DocumentFormat | undefined;
}

const ENDINGS: Readonly<Record<string, DocumentFormat>> = {
  yaml: 'yaml',
  yml: 'yaml',
  json: 'json',
  csv: 'csv',
  tsv: 'csv',
  sdp: 'sdp',
};

const READERS: Readonly<Record<DocumentFormat, (name: string, text: string) => ReadResult>> = {
  yaml: readYaml,
  json: readJson,
  csv: readCsv,
  sdp: readSdp,
};

/** Format by the ending of a file name; undefined for endings no reader takes. */
export function formatByName(name: string): DocumentFormat | undefined {
  const ending = /\.([^./\\]+)$/.exec(name)?.[1]?.toLowerCase();
  return ending === undefined || !Object.hasOwn(ENDINGS, ending) ? undefined : ENDINGS[ending];
}

const PLAN: Schema = { name: 'plan', check };

/** Reads one input and holds it against the schema. Never throws on bad input. */
export function readDocument(input: Input): ReadResult {
  const read = READERS[formatOf(input)](input.name, input.text);
  if (read.document === undefined) return read;
  const problems = validate(read.document, PLAN);
  return problems.length === 0 ? read : { document: undefined, problems };
}

/** What is written as a tree of keys, YAML or JSON, held against a schema. Never throws on bad input. */
export function readTree(input: Input, schema: Schema): ReadResult {
  const read = readAnyTree(input);
  if (read.document === undefined) return read;
  const problems = validate(read.document, schema);
  return problems.length === 0 ? read : { document: undefined, problems };
}

/** The same for what has no schema. */
export function readAnyTree(input: Input): ReadResult {
  return (formatOf(input) === 'json' ? readJson : readYaml)(input.name, input.text);
}

/** The format an input is read as. */
export function formatOf(input: Input): DocumentFormat {
  return input.format ?? formatByName(input.name) ?? formatByText(input.text);
}

/** Whether the rest may be judged where this input can't be read: a list missing whole would raise false alarms. */
export function sparable(input: Input): boolean {
  return formatOf(input) === 'sdp';
}

function formatByText(text: string): DocumentFormat {
  const start = text.slice(0, 200).trimStart();
  if (/^v=\d/.test(start)) return 'sdp';
  if (start.startsWith('{')) return 'json';
  return /^[^\n:]*[,;\t][^\n:]*(?:\r?\n|$)/.test(start) ? 'csv' : 'yaml';
}
