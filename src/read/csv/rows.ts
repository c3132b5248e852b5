import type { Span } from '../../source/text-document.js';
import { createUniqueNames, toName } from '../names.js';
import type { ProblemList } from '../problem-list.js';
import type { Placed, Tree } from '../tree.js';
import {
  isEmpty,
  readAddress,
  readDscp,
  readEssence,
  readGroup,
  readNumber,
  readPacketTime,
  readReference,
} from './cells.js';
import { legOf, LEG_FIELDS, type Column, type Columns, type LegField, type StreamField } from './columns.js';
import type { Cell, CsvRecord } from './records.js';

/** What a row says, before rows that are legs of one stream are put together. */
interface Row {
  readonly span: Span;
  readonly name: Placed<string>;
  readonly entries: Readonly<Record<string, Placed | undefined>>;
  readonly legs: readonly Placed[];
  /** What tells the legs of one stream apart when each has its own row; empty when nothing does. */
  readonly side: string;
  /** 0 or 1 as a column `leg` says. */
  readonly order: number | undefined;
}

/** Fields a pair shares when only one column holds them; addresses and networks it never shares. */
const SHARED: ReadonlySet<LegField> = new Set<LegField>(['port', 'payloadType', 'ttl', 'dscp']);

/** Collects rows into streams. */
export interface StreamRows {
  add(record: CsvRecord): void;
  streams(): readonly Placed[];
}

/**
 * Rows of one device and name that state different legs, networks, VLANs or interfaces are the legs of one stream.
 * Rows of one name that state nothing different are two streams, kept apart by a number: merging them would hide a
 * row copied by mistake.
 */
export function createStreamRows(columns: Columns, tree: Tree, problems: ProblemList): StreamRows {
  const streams: RowsOfStream[] = [];
  const byName = new Map<string, RowsOfStream>();
  return {
    add(record) {
      const row = readRow(record, columns, tree, problems);
      if (row === undefined) return;
      const known = byName.get(row.name.value);
      if (known !== undefined && isFurtherLeg(row, known)) {
        known.others.push(row);
        return;
      }
      const stream: RowsOfStream = { first: row, others: [] };
      streams.push(stream);
      byName.set(row.name.value, stream);
    },
    streams() {
      const unique = createUniqueNames();
      return streams.map((stream) => streamOf(stream, unique, tree));
    },
  };
}

interface RowsOfStream {
  readonly first: Row;
  /** Rows of further legs. */
  readonly others: Row[];
}

/** Legs a stream may have in rows of their own: networks have legs 1 to 8. A bound too, for it keeps this linear. */
const MOST_ROWS = 8;

function isFurtherLeg({ side }: Row, { first, others }: RowsOfStream): boolean {
  if (side === '' || first.side === '' || others.length + 1 >= MOST_ROWS) return false;
  return first.side !== side && others.every((row) => row.side !== side);
}

function streamOf({ first, others }: RowsOfStream, unique: (name: string) => string, tree: Tree): Placed {
  const rows = others.length === 0 ? [first] : [first, ...others].toSorted((a, b) => (a.order ?? 0) - (b.order ?? 0));
  return tree.mapping(first.span, {
    name: { ...first.name, value: unique(first.name.value) },
    ...first.entries,
    legs: tree.sequence(
      first.span,
      rows.flatMap((row) => row.legs),
    ),
  });
}

/** Undefined for a row without any fact of a leg, such as a heading between sections. */
function readRow(record: CsvRecord, columns: Columns, tree: Tree, problems: ProblemList): Row | undefined {
  const span = { start: record.cells[0]?.span.start ?? 0, end: record.cells.at(-1)?.span.end ?? 0 };
  reportSurplus(record, columns, problems);
  const cellOf = (column: Column | undefined): Cell | undefined => {
    const cell = column && record.cells[column.index];
    return cell === undefined || isEmpty(cell) ? undefined : cell;
  };
  const named = (field: StreamField): Cell | undefined => cellOf(columns.stream.get(field));

  const timeColumn = columns.stream.get('packetTime');
  const time = placedWith(cellOf(timeColumn), (cell) => readPacketTime(cell, problems), timeColumn);
  const { entries, legTime } = readContent(named, time, columns, tree, problems);
  const first = readLeg(0, cellOf, columns, problems);
  const second = columns.legs[1].size === 0 ? undefined : readLeg(1, cellOf, columns, problems);
  if (first === undefined && second === undefined) return undefined;
  // A second leg without a first stays the second: which path it is on matters more than that the first is unknown.
  const legs = [first ?? {}, ...(second === undefined ? [] : [second])].map((leg) =>
    tree.mapping(span, { ...leg, packetTime: legTime }),
  );
  const side = (['network', 'vlan', 'interface'] as const).map(
    (field) => cellOf(columns.legs[0].get(field))?.text ?? '',
  );
  const leg = named('leg')?.text ?? '';
  const parts = [leg, ...side];
  return {
    span,
    name: readName(named('device'), named('name'), span, legs),
    entries,
    legs,
    side: parts.every((part) => part === '') ? '' : JSON.stringify(parts),
    order: leg === '' ? undefined : legOf(leg),
  };
}

/** A decimal comma or an unquoted comma in a note shifts every cell after it: a surplus cell is the trace. */
function reportSurplus({ cells }: CsvRecord, columns: Columns, problems: ProblemList): void {
  const surplus = cells.slice(columns.count).find((cell) => cell.text !== '');
  if (surplus === undefined) return;
  problems.add(
    surplus.span,
    `this row has more cells than the header's ${columns.count}, so its columns may be shifted`,
    'put cells that contain the separator in double quotes',
  );
}

/** `device name`, without saying the device twice; a row that names neither goes by its first destination. */
function readName(
  device: Cell | undefined,
  name: Cell | undefined,
  span: Span,
  legs: readonly Placed[],
): Placed<string> {
  const deviceName = device === undefined ? '' : toName(device.text);
  const ownName = name === undefined ? '' : toName(name.text);
  const whole =
    deviceName === '' || ownName.toLowerCase().startsWith(deviceName.toLowerCase())
      ? ownName
      : `${deviceName} ${ownName}`.trim();
  const first = legs[0]?.value as { readonly group?: string; readonly unicast?: string } | undefined;
  const value = toName(whole) || (first?.group ?? first?.unicast ?? 'stream');
  return { value, span: name?.span ?? device?.span ?? span };
}

/** A format by name governs; facts of the list stand in for it only where the list names none. */
function readContent(
  named: (field: StreamField) => Cell | undefined,
  packetTime: Placed<string> | undefined,
  columns: Columns,
  tree: Tree,
  problems: ProblemList,
): { readonly entries: Row['entries']; readonly legTime: Placed<string> | undefined } {
  const column = (field: StreamField): Column | undefined => columns.stream.get(field);
  const essence = placedWith(named('essence'), readEssence, column('essence'));
  const format = placedWith(named('format'), (cell) => readReference(cell, 'format', problems), column('format'));
  const channels = placedWith(
    named('channels'),
    (cell) => readNumber(cell, 'channel count', [0, 1024], problems),
    column('channels'),
  );
  // Sheets write 0 channels for video.
  const stated = channels !== undefined && channels.value > 0 ? channels : undefined;
  if (format !== undefined || stated === undefined) return { entries: { essence, format }, legTime: packetTime };
  const inline = tree.mapping(stated.span, { essence, channels: stated, packetTime });
  return { entries: { format: inline }, legTime: undefined };
}

function readLeg(
  leg: 0 | 1,
  cellOf: (column: Column | undefined) => Cell | undefined,
  columns: Columns,
  problems: ProblemList,
): Readonly<Record<string, Placed | undefined>> | undefined {
  const own = columns.legs[leg];
  // A leg exists when the row states something of its own about it.
  if (LEG_FIELDS.every((field) => cellOf(own.get(field)) === undefined)) return undefined;
  const columnOf = (field: LegField): Column | undefined => own.get(field) ?? sharedColumn(field, columns);
  const read = <T>(field: LegField, how: (cell: Cell) => Placed<T> | undefined): Placed<T> | undefined =>
    placedWith(cellOf(columnOf(field)), how, columnOf(field));
  const number = (field: LegField, what: string, most: number): Placed<number> | undefined =>
    read(field, (cell) => readNumber(cell, what, [0, most], problems));

  const groupCell = cellOf(own.get('group'));
  const group = groupCell && readGroup(groupCell, problems);
  const address = group && { ...group.address, key: own.get('group')?.header.span };
  return {
    interface: read('interface', (cell) => readReference(cell, 'interface', problems)),
    vlan: read('vlan', (cell) => readReference(cell, 'VLAN', problems)),
    network: read('network', (cell) => readReference(cell, 'network', problems)),
    [group?.multicast === false ? 'unicast' : 'group']: address,
    source: read('source', (cell) => readAddress(cell, problems)),
    port: number('port', 'UDP port', 65535) ?? group?.port,
    sourcePort: number('sourcePort', 'UDP port', 65535),
    payloadType: number('payloadType', 'payload type', 127),
    ttl: number('ttl', 'TTL', 255),
    dscp: read('dscp', (cell) => readDscp(cell, problems)),
  };
}

function sharedColumn(field: LegField, columns: Columns): Column | undefined {
  const column = SHARED.has(field) ? columns.legs[0].get(field) : undefined;
  return column?.anyLeg === true ? column : undefined;
}

function placedWith<T>(
  cell: Cell | undefined,
  read: (cell: Cell) => Placed<T> | undefined,
  column: Column | undefined,
): Placed<T> | undefined {
  const value = cell && read(cell);
  return value && { ...value, key: column?.header.span };
}
