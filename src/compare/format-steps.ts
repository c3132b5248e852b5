/** Where an essence format differs, at a box that sends or takes it. */
import type { Format } from '../plan/types.js';
import { factSteps, type Facts, type StepPlace } from './facts.js';
import type { Step } from './steps.js';
import { formatFacts } from './values.js';

/** One step: from one named format to another, or the facts that differ. A mere new name is none. */
export function formatSteps(place: StepPlace, before: Format | undefined, after: Format | undefined): readonly Step[] {
  if (before === after) return [];
  const old = formatFacts(before);
  const now = formatFacts(after);
  const differing = [...new Set([...Object.keys(old), ...Object.keys(now)])].filter((what) => old[what] !== now[what]);
  if (differing.length === 0) return [];
  const renamed = before?.name !== after?.name;
  const words = (format: Format | undefined, facts: Facts): string | undefined => {
    if (format === undefined) return undefined;
    if (renamed && format.name !== undefined) return format.name;
    return differing.map((what) => `${what} ${textOf(facts[what])}`).join(', ');
  };
  return factSteps(place, { format: words(before, old) }, { format: words(after, now) });
}

function textOf(value: Facts[string]): string {
  return typeof value === 'string' ? value : 'not stated';
}
