import type { LossResult } from '../../model/timing/failover.js';
import type { Timing } from '../../model/timing/index.js';
import type { Problem } from '../../source/problem.js';

/** What a report on clocks is made from. */
export interface ClocksResult {
  /** Undefined when a part of the plan is missing. */
  readonly timing: Timing | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
  /** Losses asked about; absent: the plan whole. */
  readonly asked?: readonly LossResult[] | undefined;
  /** True to name every follower, and losses that change the way and not the grandmaster. */
  readonly all: boolean;
}
