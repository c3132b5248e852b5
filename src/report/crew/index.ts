/** What the crew needs from a plan on paper or in a spreadsheet: one sheet a subject. */
import { createModel, type Model } from '../../model/model.js';
import type { Table } from '../../page/page.js';
import type { Plan } from '../../plan/types.js';
import { clockSheet } from './clocks.js';
import { hostSheet } from './hosts.js';
import { portSheet } from './ports.js';
import { streamSheet } from './streams.js';
import { vlanSheet } from './vlans.js';

/** The subjects of the sheets, each the name of its file without the ending. */
export const SHEETS = ['hosts', 'streams', 'vlans', 'ports', 'clocks'] as const;

export type SheetName = (typeof SHEETS)[number];

/** One sheet, and its subject. */
export interface CrewTable {
  readonly name: SheetName;
  readonly table: Table;
}

const MAKERS: Readonly<Record<SheetName, (model: Model) => Table | undefined>> = {
  hosts: ({ plan }) => hostSheet(plan),
  streams: streamSheet,
  vlans: vlanSheet,
  ports: ({ plan }) => portSheet(plan),
  clocks: ({ plan }) => clockSheet(plan),
};

/** The sheets of a plan, or those asked for; one that would be empty is left out. */
export function crewTables(plan: Plan, only: readonly SheetName[] = SHEETS): readonly CrewTable[] {
  const model = createModel(plan);
  return SHEETS.filter((name) => only.includes(name)).flatMap((name) => {
    const table = MAKERS[name](model);
    return table === undefined ? [] : [{ name, table }];
  });
}
