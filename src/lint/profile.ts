/** How conventions set the rules; `src/profile` reads it from a file. */
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
  const close = meantBy(text, candidates);
  return close.length === 0 ? '' : `; did you mean ${close.map((name) => `\`${name}\``).join(' or ')}?`;
}

/** Rules by the names they had before version 0.2. */
export const RENAMED_RULES: ReadonlyMap<string, string> = new Map([
  ['groups/outside-house', 'groups/outside-conventions'],
  ['capacity/equal-ways-overload', 'capacity/equal-paths-overload'],
]);

/**
 * The names of rules, or of their thresholds, that a wrong one may mean: those with the same last part, whatever family is
 * written before it; else the nearest whole name, else those whose last part is nearest.
 */
export function meantBy(text: string, candidates: readonly string[]): readonly string[] {
  const renamed = RENAMED_RULES.get(text);
  if (renamed !== undefined && candidates.includes(renamed)) return [renamed];
  const last = lastPart(text);
  const same = candidates.filter((name) => lastPart(name) === last);
  if (same.length > 0) return same;
  const close = nearest(text, candidates);
  if (close !== undefined) return [close];
  const near = nearest(last, candidates.map(lastPart));
  return near === undefined ? [] : candidates.filter((name) => lastPart(name) === near);
}

function lastPart(name: string): string {
  return name.slice(name.lastIndexOf('/') + 1);
}
