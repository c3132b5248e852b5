/** How a house sets the rules; `src/profile` reads it from a file. */
import { nearest } from '../collections/nearest.js';
import type { Severity } from './finding.js';
import type { Rule } from './rule.js';

export interface Profile {
  /** By rule id; `off` keeps a rule from running. */
  readonly severity: Readonly<Record<string, Severity | 'off'>>;
  /** By `family/fault.name`. */
  readonly thresholds: Readonly<Record<string, number>>;
}

export const NO_PROFILE: Profile = { severity: {}, thresholds: {} };

export function thresholdNames(rules: readonly Rule[]): readonly string[] {
  return rules.flatMap((rule) => Object.keys(rule.thresholds ?? {}).map((name) => `${rule.id}.${name}`));
}

/** `; did you mean …`, or nothing. */
export function didYouMean(text: string, candidates: readonly string[]): string {
  const close = nearest(text, candidates);
  return close === undefined ? '' : `; did you mean \`${close}\`?`;
}
