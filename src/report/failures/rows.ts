import type { Element } from '../../model/network/index.js';
import { type FailureRow, takesOffAir } from '../../model/explain/index.js';
import type { FailuresResult } from '../../answers/failures.js';

/** A row with its place in the whole ranking, from 1. */
export interface RankedRow {
  readonly rank: number;
  readonly row: FailureRow;
}

/** The rows asked for, in their order. */
export function rowsOf({ table, asked, all }: FailuresResult): readonly RankedRow[] {
  const ranked = (table?.rows ?? []).map((row, index): RankedRow => ({ rank: index + 1, row }));
  if (asked === undefined) return all ? ranked : ranked.filter(({ row }) => takesOffAir(row));
  const keys = new Set(asked.map(keyOf));
  return ranked.filter(({ row }) => keys.has(keyOf(row.element)));
}

/** Elements asked about that no row is about: their failure changes nothing that can be judged. */
export function harmless(result: FailuresResult): readonly Pick<Element, 'kind' | 'name'>[] {
  const hit = new Set(rowsOf(result).map(({ row }) => keyOf(row.element)));
  return (result.asked ?? []).filter((one) => !hit.has(keyOf(one)));
}

function keyOf({ kind, name }: Pick<Element, 'kind' | 'name'>): string {
  return `${kind} ${name}`;
}
