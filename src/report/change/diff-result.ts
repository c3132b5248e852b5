import type { Comparison } from '../../compare/steps.js';
import type { Problem } from '../../source/problem.js';

/** What a report on two plans is made from. */
export interface DiffResult {
  /** Undefined when a part of a plan is missing. */
  readonly comparison: Comparison | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}
