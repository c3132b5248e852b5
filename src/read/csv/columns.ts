/**
 * Which column of a stream list says what. The spellings are those in use on spreadsheets of the trade (common
 * practice, no source); case, blanks and punctuation are ignored.
 */
import { nearest } from '../../collections/nearest.js';
import { quote, type ProblemList } from '../problem-list.js';
import type { Cell, CsvRecord } from './records.js';

export const LEG_FIELDS = [
  'group',
  'source',
  'port',
  'sourcePort',
  'payloadType',
  'ttl',
  'dscp',
  'interface',
  'vlan',
  'network',
] as const;
export const STREAM_FIELDS = ['name', 'device', 'essence', 'format', 'channels', 'packetTime', 'leg'] as const;

export type LegField = (typeof LEG_FIELDS)[number];
export type StreamField = (typeof STREAM_FIELDS)[number];

/** A column the reader understands, and its cell of the header. */
export interface Column {
  readonly index: number;
  readonly header: Cell;
  /** Headed without a leg: `port`, not `port a`. */
  readonly anyLeg: boolean;
}

export interface Columns {
  readonly stream: ReadonlyMap<StreamField, Column>;
  /** Columns per leg, the first path first. */
  readonly legs: readonly [ReadonlyMap<LegField, Column>, ReadonlyMap<LegField, Column>];
  /** Columns of the header, read or not. */
  readonly count: number;
}

interface Meaning {
  readonly field: LegField | StreamField;
  readonly leg: 0 | 1;
  readonly anyLeg: boolean;
  /** The spelling a message shows. */
  readonly shown: string;
}

const STREAM_SPELLINGS: Readonly<Record<StreamField, readonly string[]>> = {
  name: ['stream', 'name', 'signal', 'signal name', 'stream name', 'flow', 'flow name', 'label'],
  device: ['device', 'device name', 'sender', 'sender name', 'host', 'hostname'],
  essence: ['essence', 'type', 'essence type', 'media type', 'signal type', 'stream type'],
  format: ['format', 'video format', 'audio format'],
  channels: ['channels', 'channel count', 'audio channels'],
  packetTime: ['packet time', 'ptime'],
  leg: ['leg', 'path', 'side'],
};

const LEG_SPELLINGS: Readonly<Record<LegField, readonly string[]>> = {
  group: [
    'group',
    'multicast',
    'multicast address',
    'multicast group',
    'multicast ip',
    'group address',
    'group ip',
    'mcast',
    'mcast address',
    'mcast ip',
    'destination',
    'destination address',
    'destination ip',
    'dest',
    'dest ip',
    'dest address',
    'dst',
    'dst ip',
    'dst address',
  ],
  source: ['source', 'source ip', 'source address', 'src', 'src ip', 'src address'],
  port: ['port', 'udp port', 'udp', 'dst port', 'dest port', 'destination port', 'rtp port'],
  sourcePort: ['source port', 'src port'],
  payloadType: ['payload type', 'pt', 'rtp payload type'],
  ttl: ['ttl', 'time to live'],
  dscp: ['dscp'],
  interface: ['interface', 'nic', 'interface name'],
  vlan: ['vlan', 'vlan name'],
  network: ['network', 'network name', 'leg network'],
};

/** Words for the first and the second path of a redundant pair. */
const LEG_WORDS: readonly [readonly string[], readonly string[]] = [
  ['a', '1', 'primary', 'prim', 'main', 'red', 'amber', 'leg a', 'leg 1', 'path a', 'path 1'],
  ['b', '2', 'secondary', 'sec', 'backup', 'blue', 'leg b', 'leg 2', 'path b', 'path 2'],
];

/** Of those, the ones that head a column of groups without saying so. */
const BARE_LEG_WORDS: ReadonlySet<string> = new Set(
  LEG_WORDS.flat()
    .filter((word) => !['a', 'b', '1', '2', 'prim', 'sec'].includes(word))
    .map(fold),
);

/** Columns such sheets carry for other purposes, so that they are not taken for slips of the pen. */
const OTHER_COLUMNS: ReadonlySet<string> = new Set(
  [
    'notes',
    'note',
    'comment',
    'comments',
    'remark',
    'remarks',
    'about',
    'description',
    'owner',
    'version',
    'status',
    'asset',
    'asset no',
    'role',
    'location',
    'rack',
    'room',
    'area',
    'venue',
    'mac',
    'ip',
    'ip address',
    'mask',
    'host ip',
    'gateway',
    'switch',
    'switch port',
    'optic',
    'cable',
    'port speed',
    'speed',
    'direction',
    'bitrate',
    'bit rate',
    'rate',
    'bandwidth',
    'frame rate',
    'width',
    'height',
    'resolution',
    'sampling',
    'codec',
    'ptp domain',
    'domain',
    'priority',
    'igmp version',
    'sdp',
    'sdp file',
    'id',
    'nmos id',
    'uuid',
    'dhcp',
    'ntp',
    'dns',
    'redundancy',
    'redundant',
    'date',
    'changed on',
    'receiver',
    'receivers',
    'part',
    'part no',
    'part number',
    'serial',
    'number',
    'no',
    'sort',
    'state',
    'sport',
    'patch',
    'color',
    'colour',
    'model',
    'vendor',
    'crew',
    'task',
    'index',
    'row',
    'kind',
    'zone',
    'site',
  ].map(fold),
);

const MEANINGS: ReadonlyMap<string, Meaning> = listMeanings();

/** More columns than any list has: a bound for files that are no list. */
const MOST_COLUMNS = 500;

/** What the header's columns mean; undefined with problems when it heads no stream list. */
export function readColumns(header: CsvRecord, problems: ProblemList): Columns | undefined {
  const stream = new Map<StreamField, Column>();
  const legs = [new Map<LegField, Column>(), new Map<LegField, Column>()] as const;
  const bare: [Column, 0 | 1][] = [];
  const unknown: Cell[] = [];
  header.cells.slice(0, MOST_COLUMNS).forEach((cell, index) => {
    const folded = fold(cell.text);
    const meaning = MEANINGS.get(folded);
    const column: Column = { index, header: cell, anyLeg: meaning?.anyLeg ?? false };
    if (meaning !== undefined) keep(meaning, column);
    else if (BARE_LEG_WORDS.has(folded)) bare.push([column, legOf(cell.text) ?? 0]);
    else if (folded !== '') unknown.push(cell);
  });
  for (const [column, leg] of bare) {
    if (!legs[leg].has('group')) legs[leg].set('group', column);
  }
  if (!legs.some((leg) => leg.has('group'))) {
    problems.add(headerSpan(header), 'no column of this list holds multicast groups', groupAdvice(unknown));
    return undefined;
  }
  for (const cell of unknown) reportNearMiss(cell, problems);
  return { stream, legs, count: header.cells.length };

  function keep({ field, leg, shown }: Meaning, column: Column): void {
    const columns: Map<string, Column> = isLegField(field) ? legs[leg] : stream;
    const earlier = columns.get(field);
    if (earlier === undefined) columns.set(field, column);
    else {
      problems.add(
        column.header.span,
        `column ${quote(column.header.text)} means the same as column ${quote(earlier.header.text)}`,
        isLegField(field) ? `call the second leg's column \`${shown} b\`, or delete one` : 'delete one of the two',
      );
    }
  }
}

/** The leg a word stands for, as in a column `leg`; undefined when it stands for none. */
export function legOf(text: string): 0 | 1 | undefined {
  const folded = fold(text);
  if (LEG_WORDS[0].some((word) => fold(word) === folded)) return 0;
  return LEG_WORDS[1].some((word) => fold(word) === folded) ? 1 : undefined;
}

function isLegField(field: LegField | StreamField): field is LegField {
  return (LEG_FIELDS as readonly string[]).includes(field);
}

/** Letters and digits only, in lower case: `Dest. IP` and `dest_ip` are one spelling; `µ` stays a letter. */
function fold(text: string): string {
  return text
    .slice(0, 200)
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '');
}

function listMeanings(): ReadonlyMap<string, Meaning> {
  const meanings = new Map<string, Meaning>();
  const put = (spelling: string, meaning: Meaning): void => {
    if (!meanings.has(fold(spelling))) meanings.set(fold(spelling), meaning);
  };
  for (const field of STREAM_FIELDS) {
    for (const spelling of STREAM_SPELLINGS[field]) put(spelling, { field, leg: 0, anyLeg: true, shown: spelling });
  }
  for (const field of LEG_FIELDS) {
    for (const spelling of LEG_SPELLINGS[field]) put(spelling, { field, leg: 0, anyLeg: true, shown: spelling });
  }
  for (const leg of [0, 1] as const) {
    for (const field of LEG_FIELDS) {
      for (const spelling of LEG_SPELLINGS[field]) {
        for (const word of LEG_WORDS[leg]) {
          put(`${spelling} ${word}`, { field, leg, anyLeg: false, shown: spelling });
          put(`${word} ${spelling}`, { field, leg, anyLeg: false, shown: spelling });
        }
      }
    }
  }
  return meanings;
}

/** An unknown column is somebody's own business, unless it looks like a known one written wrong. */
function reportNearMiss(cell: Cell, problems: ProblemList): void {
  const close = nearMiss(cell);
  if (close === undefined) return;
  problems.add(
    cell.span,
    `column ${quote(cell.text)} is not one this list format knows`,
    `write \`${close}\`, or give the column a name further from it`,
  );
}

function nearMiss(cell: Cell): string | undefined {
  const folded = fold(cell.text);
  if (folded.length < 4 || folded.length > 40 || OTHER_COLUMNS.has(folded)) return undefined;
  const close = nearest(folded, MEANINGS.keys());
  // Short words lie close together; a slip of the pen rarely hits the first letter.
  if (close === undefined || (folded.length < 8 && close[0] !== folded[0])) return undefined;
  return MEANINGS.get(close)?.shown;
}

function groupAdvice(unknown: readonly Cell[]): string {
  const accepted = LEG_SPELLINGS.group.map((spelling) => `\`${spelling}\``).join(', ');
  const slip = unknown.slice(0, 50).find((cell) => {
    const close = nearest(fold(cell.text.slice(0, 40)), LEG_SPELLINGS.group.map(fold));
    return close !== undefined && fold(cell.text).length >= 4;
  });
  const meant = slip === undefined ? '' : `; ${quote(slip.text)} may have been meant`;
  return `head one column with one of ${accepted}; for a pair add \`a\` and \`b\`: \`group a\`, \`group b\`${meant}`;
}

function headerSpan({ cells }: CsvRecord): Cell['span'] {
  return { start: cells[0]?.span.start ?? 0, end: cells.at(-1)?.span.end ?? 0 };
}
