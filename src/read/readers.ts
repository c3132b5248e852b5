/**
 * Every kind of file a plan may be in. A further one is added here and nowhere else: what a file is, which options there
 * are and whether a rig may be judged without it is asked of this list.
 */
import type { TextDocument } from '../source/text-document.js';
import { readCsv } from './csv.js';
import { readJson } from './json.js';
import type { ReadResult } from './result.js';
import { readSdp } from './sdp/read-sdp.js';
import { readYaml } from './yaml.js';

interface Form {
  /** What options and reports call it. */
  readonly name: string;
  /** Endings of file names, without the dot, in small letters. */
  readonly endings: readonly string[];
  /** Whether a file that no name tells starts as these do; of bytes, each is a character. */
  readonly starts: (start: string) => boolean;
  /** Whether the rest of a rig may be judged where one of these can't be read: a list missing whole raises false alarms. */
  readonly sparable: boolean;
}

export interface TextReader extends Form {
  readonly takes: 'text';
  /** Never throws. */
  readonly read: (name: string, text: string) => ReadResult<TextDocument>;
}

export interface BytesReader extends Form {
  readonly takes: 'bytes';
  /** Never throws. */
  readonly read: (name: string, bytes: Uint8Array) => ReadResult;
}

export type Reader = TextReader | BytesReader;

/** In the order in which a start is tried; what starts like none is taken for the first. */
export const READERS = [
  { name: 'yaml', endings: ['yaml', 'yml'], starts: () => false, sparable: false, takes: 'text', read: readYaml },
  {
    name: 'json',
    endings: ['json'],
    starts: (start) => start.startsWith('{'),
    sparable: false,
    takes: 'text',
    read: readJson,
  },
  {
    name: 'csv',
    endings: ['csv', 'tsv'],
    starts: (start) => /^(?!v=\d)[^\n:]*[,;\t][^\n:]*(?:\r?\n|$)/.test(start),
    sparable: false,
    takes: 'text',
    read: readCsv,
  },
  {
    name: 'sdp',
    endings: ['sdp'],
    starts: (start) => /^v=\d/.test(start),
    sparable: true,
    takes: 'text',
    read: readSdp,
  },
] as const satisfies readonly Reader[];

export type ReaderName = (typeof READERS)[number]['name'];

/** `.yaml, .json, .csv or .sdp`: the usual ending of each, for a message. */
export function usualEndings(): string {
  const endings = READERS.map(({ endings: [first] }) => `.${first}`);
  return `${endings.slice(0, -1).join(', ')} or ${endings.at(-1) ?? ''}`;
}
