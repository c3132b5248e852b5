/**
 * The stream list, a row a leg. Its columns are ones a stream list may have (`src/read/csv/columns.ts`), so that what the
 * crew hands back can be held against the plan.
 */
import type { Model } from '../../model/model.js';
import type { Table } from '../../page/page.js';
import type { Leg } from '../../plan/types.js';
import { addressCell, rigColumn } from './cells.js';
import { receiverNames } from './receivers.js';
import { sheetTable, type SheetColumn } from './sheet.js';

/** One row a stream leg; undefined for a plan without streams. */
export function streamSheet(model: Model): Table | undefined {
  const { plan, rates } = model;
  const receivers = receiverNames(model);
  const columns: readonly SheetColumn<Leg>[] = [
    rigColumn(plan, ({ sender }) => sender.rig),
    { heading: 'area', cell: ({ sender }) => sender.device?.area },
    { heading: 'device', cell: ({ sender }) => sender.device?.name },
    { heading: 'stream', cell: ({ sender }) => sender.name },
    { heading: 'essence', cell: ({ sender }) => sender.essence ?? sender.format?.essence },
    { heading: 'format', cell: ({ sender }) => sender.format?.name },
    { heading: 'leg', cell: ({ index }) => index + 1 },
    { heading: 'network', cell: ({ network }) => network?.name },
    { heading: 'VLAN', cell: ({ vlan }) => vlan?.name },
    // A stream to one host has that host's address here: readers of stream lists take both.
    { heading: 'group', cell: ({ group, unicast }) => addressCell(group ?? unicast) },
    { heading: 'UDP port', cell: ({ port }) => port },
    { heading: 'source', cell: ({ source }) => addressCell(source) },
    { heading: 'payload type', cell: ({ payloadType }) => payloadType },
    { heading: 'rate Mbit/s', cell: (leg) => megabits(rates.onWire(leg)?.onPort) },
    { heading: 'receivers', cell: receivers },
  ];
  return sheetTable(plan.legs, columns, [
    ({ sender }) => sender.rig.name,
    ({ sender }) => sender.device?.area,
    ({ sender }) => sender.device?.name,
    ({ sender }) => sender.name,
    ({ index }) => index,
  ]);
}

function megabits(rateBps: number | undefined): number | undefined {
  return rateBps === undefined ? undefined : Number((rateBps / 1e6).toFixed(3));
}
