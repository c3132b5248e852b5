/** Who leads each PTP domain, who follows through what, and what does a loss change? */
import type { LoadedPlan } from '../plan/load.js';
import { createModel } from '../model/model.js';
import { type LossResult, namedLosses, type Timing } from '../model/timing/index.js';
import type { Problem } from '../source/problem.js';
import { isAskedFor, referenceName } from './asked-name.js';
import { unknownName, type UnknownName } from './unknown-name.js';

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

export interface ClocksOptions {
  /**
   * The tree after the loss of what has this name; `switch red-core` names one kind only, and `clock-201:reference`
   * what it is locked to alone.
   */
  readonly lose?: string | undefined;
  readonly all?: boolean | undefined;
}

export function electClocks(loaded: LoadedPlan, options: ClocksOptions = {}): ClocksResult | UnknownName {
  const { plan, problems, whole } = loaded;
  const all = options.all ?? false;
  if (!whole) return { timing: undefined, problems, all };
  const { timing } = createModel(plan);
  const { lose } = options;
  if (lose === undefined) return { timing, problems, all };
  const losses = namedLosses(plan, timing);
  const asked = losses.filter((one) => isAskedFor(lose, one));
  if (asked.length > 0) return { timing, problems, asked: asked.map((one) => timing.without(one)), all };
  return unknownName(
    lose,
    losses.map(({ kind, name }) => (kind === 'reference' ? referenceName(name) : name)),
  );
}
