/** How long does each stream take, and do sound and picture meet? */
import type { LoadedPlan } from '../plan/load.js';
import type { Delays } from '../model/delay/index.js';
import { type FactKey, unstated } from '../model/facts.js';
import { createModel } from '../model/model.js';
import type { Sender } from '../plan/types.js';
import type { Problem } from '../source/problem.js';
import { unknownName, type UnknownName } from './unknown-name.js';

export interface DelayResult {
  /** Undefined when a part of the plan is missing. */
  readonly delays: Delays | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
  /** Streams asked about; absent: all. */
  readonly asked?: readonly Sender[] | undefined;
  /** True to list every reception. */
  readonly all: boolean;
  /** Facts without which delays, or those of the way, are not judged at all. */
  readonly blind?: readonly FactKey[] | undefined;
}

export interface DelayOptions {
  /** Only streams with this label, part by part: joined rigs may each have one. */
  readonly stream?: string | undefined;
  readonly all?: boolean | undefined;
}

export function addUpDelays(loaded: LoadedPlan, options: DelayOptions = {}): DelayResult | UnknownName {
  const { plan, problems, whole } = loaded;
  const all = options.all ?? false;
  if (!whole) return { delays: undefined, problems, all };
  const { delays } = createModel(plan);
  const { stream } = options;
  const blind = unstated(plan, ['receivers', 'links']);
  if (stream === undefined) return { delays, problems, all, blind };
  const asked = plan.senders.filter(({ label }) => label === stream);
  if (asked.length > 0) return { delays, problems, asked, all, blind };
  return unknownName(
    stream,
    plan.senders.map(({ label }) => label),
  );
}
