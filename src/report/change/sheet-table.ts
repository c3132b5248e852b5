/** The change sheet for a spreadsheet: one row a step, in the order it is done. */
import { orderSteps } from '../../compare/order.js';
import type { Comparison } from '../../compare/steps.js';
import type { Column, Table } from '../../page/page.js';

const COLUMNS: readonly Column[] = [
  { heading: 'step', type: 'number' },
  ...['stage', 'rig', 'action', 'box', 'name', 'place', 'network', 'what', 'old', 'new', 'why', 'done'].map(
    (heading): Column => ({ heading, type: 'name' }),
  ),
];

/** The last column is empty, for a tick. */
export function sheetTable(comparison: Comparison): Table {
  const rows = orderSteps(comparison).stages.flatMap(({ title, steps }) =>
    steps.map(({ number, rig, action, box, at, network, what, old, new: now, why }) => ({
      cells: [
        number,
        ...[title, rig, action, box.kind, box.name, at, network, what, old, now, why, ''].map((text) => text ?? ''),
      ],
    })),
  );
  return { kind: 'table', columns: COLUMNS, rows };
}
