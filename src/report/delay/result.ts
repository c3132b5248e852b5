import type { Budget } from '../../model/delay/budget.js';
import type { Delays } from '../../model/delay/index.js';
import type { Sender } from '../../plan/types.js';
import type { Problem } from '../../source/problem.js';

/** What a report on delays is made from. */
export interface DelayResult {
  /** Undefined when a part of the plan is missing. */
  readonly delays: Delays | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
  /** Streams asked about; absent: all. */
  readonly asked?: readonly Sender[] | undefined;
  /** True to list every reception. */
  readonly all: boolean;
}

/** Receptions asked for, the slowest first, then in the order of the plan. */
export function budgetsOf({ delays, asked }: DelayResult): readonly Budget[] {
  const wanted = asked === undefined ? undefined : new Set(asked);
  const budgets = (delays?.budgets ?? []).filter(({ sender }) => wanted?.has(sender) ?? true);
  return [...budgets].sort((a, b) => b.totalNs - a.totalNs);
}
