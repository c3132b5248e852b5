import { drawCsv } from '../draw/csv.js';
import type { Plan } from '../plan/types.js';
import { crewTables, type SheetName } from '../report/crew/index.js';

export { SHEETS, type SheetName } from '../report/crew/index.js';

/** A sheet for the crew as CSV. */
export interface CrewSheet {
  /** Name of its file: `hosts.csv`. */
  readonly name: string;
  readonly text: string;
  /** Without the header. */
  readonly rows: number;
}

/** The sheets of a plan, or those asked for; one that would be empty is left out. */
export function crewSheets(plan: Plan, only?: readonly SheetName[]): readonly CrewSheet[] {
  return crewTables(plan, only).map(({ name, table }) => {
    return { name: `${name}.csv`, text: drawCsv(table), rows: table.rows.length };
  });
}
