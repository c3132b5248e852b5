import type { Budget } from '../../model/delay/index.js';
import type { DelayResult } from '../../answers/delay.js';

/** Receptions asked for, the slowest first, then in the order of the plan. */
export function budgetsOf({ delays, asked }: DelayResult): readonly Budget[] {
  const wanted = asked === undefined ? undefined : new Set(asked);
  const budgets = (delays?.budgets ?? []).filter(({ sender }) => wanted?.has(sender) ?? true);
  return [...budgets].sort((a, b) => b.totalNs - a.totalNs);
}
