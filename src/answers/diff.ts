/** What changed between two plans, as the steps of a crew? */
import { comparePlans } from '../compare/compare.js';
import type { Comparison } from '../compare/steps.js';
import type { LoadedPlan } from '../plan/load.js';
import type { Problem } from '../source/problem.js';

export interface DiffResult {
  /** Undefined when a part of a plan is missing. */
  readonly comparison: Comparison | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}

export function diffPlans(before: LoadedPlan, after: LoadedPlan): DiffResult {
  return {
    comparison: before.whole && after.whole ? comparePlans(before.plan, after.plan) : undefined,
    problems: [...before.problems, ...after.problems],
  };
}
