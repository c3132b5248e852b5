/** What happens after one loss, moment by moment? */
import { type FactKey, unstated } from '../model/facts.js';
import { createModel } from '../model/model.js';
import { buildReturn, buildTimeline, losables, type Timeline } from '../model/timeline/index.js';
import type { LoadedPlan } from '../plan/load.js';
import type { Problem } from '../source/problem.js';
import { isAskedFor, referenceName } from './asked-name.js';
import { unknownName, type UnknownName } from './unknown-name.js';

export interface TimelineResult {
  /** One for each thing of the name, and for each class a clock without its reference falls to; none when a part of the plan is missing. */
  readonly timelines: readonly Timeline[];
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
  /** True to name everybody. */
  readonly all: boolean;
  /** Facts without which streams are not followed at all. */
  readonly blind: readonly FactKey[];
}

export interface TimelineOptions {
  /** What is lost: `red-core`, `switch red-core` to name one kind only, `clock-201:reference` for what a clock is locked to. */
  readonly lose: string;
  /** What clocks do once it is given back, in place of what its loss does. */
  readonly back?: boolean | undefined;
  readonly all?: boolean | undefined;
}

/** The moments after the loss or the return of what has this name, from 0 s until nothing changes any more. */
export function tellTimeline(
  { plan, problems, whole }: LoadedPlan,
  { lose, back = false, all = false }: TimelineOptions,
): TimelineResult | UnknownName {
  if (!whole) return { timelines: [], problems, all, blind: [] };
  const model = createModel(plan);
  const known = losables(plan, model.timing);
  const asked = known.filter((one) => isAskedFor(lose, one));
  if (asked.length === 0)
    return unknownName(
      lose,
      known.map(({ kind, name }) => (kind === 'reference' ? referenceName(name) : name)),
    );
  return {
    timelines: back
      ? asked.flatMap((one) => buildReturn(model.timing, one) ?? [])
      : asked.map((one) => buildTimeline(model, one)),
    problems,
    all,
    blind: back ? [] : unstated(plan, ['receivers', 'links']),
  };
}
