/** The change sheet for a spreadsheet: one row a step (RFC 4180), in the order it is done. */
import { orderSteps } from '../compare/order.js';
import type { Comparison } from '../compare/steps.js';
import { csvCell } from './escape.js';

const HEADER = [
  'step',
  'stage',
  'rig',
  'action',
  'box',
  'name',
  'place',
  'network',
  'what',
  'old',
  'new',
  'why',
  'done',
];

/** The last column is empty, for a tick. */
export function reportSheetCsv(comparison: Comparison): string {
  const rows = orderSteps(comparison).stages.flatMap(({ title, steps }) =>
    steps.map((step) => [
      String(step.number),
      ...[title, step.rig, step.action, step.box.kind, step.box.name, step.at, step.network].map(cell),
      ...[step.what, step.old, step.new, step.why, ''].map(cell),
    ]),
  );
  return [HEADER.map(csvCell), ...rows].map((cells) => `${cells.join(',')}\r\n`).join('');
}

function cell(text: string | undefined): string {
  return csvCell(text ?? '');
}
