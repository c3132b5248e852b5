/** What does each single failure take off air? */
import type { LoadedPlan } from '../plan/load.js';
import { buildFailureTable, elementsOf, type FailureTable } from '../model/explain/index.js';
import { type FactKey, unstated } from '../model/facts.js';
import { createModel } from '../model/model.js';
import type { Element } from '../model/network/index.js';
import type { Problem } from '../source/problem.js';
import { isAskedFor } from './asked-name.js';
import { unknownName, type UnknownName } from './unknown-name.js';

export interface FailuresResult {
  /** Undefined when a part of the plan is missing. */
  readonly table: FailureTable | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
  /** Elements asked about; absent: the whole table. */
  readonly asked?: readonly Pick<Element, 'kind' | 'name'>[] | undefined;
  /** True to show too what takes nothing off air and only weakens. */
  readonly all: boolean;
  /** Facts without which failures, or failures of some kind, are not judged at all. */
  readonly blind?: readonly FactKey[] | undefined;
}

export interface FailuresOptions {
  /** Only the failure of what has this name; `switch red-core` names one kind only. */
  readonly lose?: string | undefined;
  readonly all?: boolean | undefined;
}

export function listFailures(loaded: LoadedPlan, options: FailuresOptions = {}): FailuresResult | UnknownName {
  const { plan, problems, whole } = loaded;
  const all = options.all ?? false;
  if (!whole) return { table: undefined, problems, all };
  const table = (): FailureTable => buildFailureTable(createModel(plan));
  const { lose } = options;
  const blind = unstated(plan, ['receivers', 'links']);
  if (lose === undefined) return { table: table(), problems, all, blind };
  const elements = elementsOf(plan);
  const asked = elements.filter((one) => isAskedFor(lose, one));
  if (asked.length > 0) return { table: table(), problems, asked, all, blind };
  return unknownName(
    lose,
    elements.map(({ name }) => name),
  );
}
