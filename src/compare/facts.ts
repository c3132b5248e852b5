/** Facts of one thing before and after, and the steps that follow where they differ. */
import type { Box, Step, StepAction, StepPart } from './steps.js';

/** A value as the crew reads it; `key` says sameness where names may change. */
export interface Value {
  readonly text: string;
  readonly key: string;
}

/** Values under the trade's word for each. */
export type Facts = Readonly<Record<string, string | Value | undefined>>;

/** Where steps are done. */
export interface StepPlace {
  readonly rig: string;
  readonly box: Box;
  readonly at?: string | undefined;
  readonly network?: string | undefined;
  readonly part: StepPart;
  readonly why?: string | undefined;
  readonly joins?: boolean;
}

/** One step a fact that differs. */
export function factSteps(place: StepPlace, before: Facts, after: Facts, action: StepAction = 'set'): readonly Step[] {
  const steps: Step[] = [];
  for (const what of namesOf(before, after)) {
    const old = before[what];
    const now = after[what];
    if (keyText(old) === keyText(now) || textOf(old) === textOf(now)) continue;
    steps.push(step(place, action, what, textOf(old), textOf(now)));
  }
  return steps;
}

/** One step for something that is there on one side only, or stays there with another value. */
export function entrySteps(
  place: StepPlace,
  what: string,
  old: string | Value | undefined,
  now: string | Value | undefined,
): readonly Step[] {
  const action = old === undefined ? 'add' : now === undefined ? 'remove' : 'set';
  return factSteps(place, { [what]: old }, { [what]: now }, action);
}

/** Why a new box is one step: everything it is set to stands on one sheet. */
export const FROM_CARD = 'set up from its card';

/** The same steps with what they give up and take, as far as they do not keep it. */
export function holding(
  steps: readonly Step[],
  before: readonly (string | undefined)[],
  after: readonly (string | undefined)[],
): readonly Step[] {
  const old = new Set(before.filter((key) => key !== undefined));
  const now = new Set(after.filter((key) => key !== undefined));
  const frees = [...old].filter((key) => !now.has(key));
  const claims = [...now].filter((key) => !old.has(key));
  if (frees.length === 0 && claims.length === 0) return steps;
  return steps.map((one) => ({ ...one, frees, claims }));
}

/** A step as it stands. */
export function step(
  place: StepPlace,
  action: StepAction,
  what: string,
  old: string | undefined,
  now: string | undefined,
): Step {
  const { rig, box, at, network, why, part, joins } = place;
  return { rig, action, box, at, network, what, old, new: now, why, part, ...(joins === true ? { joins } : {}) };
}

/** `3`, or nothing. */
export function numeral(value: number | undefined, unit = ''): string | undefined {
  return value === undefined ? undefined : `${value}${unit === '' ? '' : ` ${unit}`}`;
}

/** `yes` or `no`, or nothing. */
export function yesNo(value: boolean | undefined): string | undefined {
  return value === undefined ? undefined : value ? 'yes' : 'no';
}

/** Words in one order whatever order they were written in; nothing for none. */
export function setOf(words: readonly string[]): string | undefined {
  return words.length === 0 ? undefined : [...new Set(words)].sort(NATURAL.compare).join(', ');
}

/** Values in one order; the same things are the same set under other names too. */
export function setOfValues(values: readonly Value[]): Value | undefined {
  const text = setOf(values.map((value) => value.text));
  if (text === undefined) return undefined;
  return { text, key: [...new Set(values.map(({ key }) => key))].sort().join(' ') };
}

/** Names as people count: `cam-9` before `cam-10`. */
export const NATURAL = new Intl.Collator('en', { numeric: true });

function namesOf(before: Facts, after: Facts): Iterable<string> {
  return new Set([...Object.keys(before), ...Object.keys(after)]);
}

function textOf(value: string | Value | undefined): string | undefined {
  return typeof value === 'object' ? value.text : value;
}

function keyText(value: string | Value | undefined): string | undefined {
  return typeof value === 'object' ? value.key : value;
}
