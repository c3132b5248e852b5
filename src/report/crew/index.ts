/** What the crew needs from a plan on paper or in a spreadsheet: one CSV sheet a subject. */
import { createModel, type Model } from '../../model/model.js';
import type { Plan } from '../../plan/types.js';
import { clockSheet } from './clocks.js';
import { hostSheet } from './hosts.js';
import { portSheet } from './ports.js';
import { ROW_END } from './sheet.js';
import { streamSheet } from './streams.js';
import { vlanSheet } from './vlans.js';

/** The subjects of the sheets, each the name of its file without the ending. */
export const SHEETS = ['hosts', 'streams', 'vlans', 'ports', 'clocks'] as const;

export type SheetName = (typeof SHEETS)[number];

export interface CrewSheet {
  /** Name of its file: `hosts.csv`. */
  readonly name: string;
  readonly text: string;
  /** Without the header. */
  readonly rows: number;
}

const MAKERS: Readonly<Record<SheetName, (model: Model) => string | undefined>> = {
  hosts: ({ plan }) => hostSheet(plan),
  streams: streamSheet,
  vlans: vlanSheet,
  ports: ({ plan }) => portSheet(plan),
  clocks: ({ plan }) => clockSheet(plan),
};

/** The sheets of a plan, or those asked for; one that would be empty is left out. */
export function crewSheets(plan: Plan, only: readonly SheetName[] = SHEETS): readonly CrewSheet[] {
  const model = createModel(plan);
  return SHEETS.filter((name) => only.includes(name)).flatMap((name) => {
    const text = MAKERS[name](model);
    return text === undefined ? [] : [{ name: `${name}.csv`, text, rows: text.split(ROW_END).length - 2 }];
  });
}
