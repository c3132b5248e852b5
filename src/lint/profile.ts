/** A house profile: how severe each rule is, its thresholds, and house rules to load. Never part of a plan. */
import { nearest } from '../source/nearest.js';
import { SEVERITIES, type Severity } from './finding.js';
import type { Rule } from './rule.js';

export interface Profile {
  /** By rule id; `off` keeps a rule from running. */
  readonly severity: Readonly<Record<string, Severity | 'off'>>;
  /** By `family/fault.name`. */
  readonly thresholds: Readonly<Record<string, number>>;
  /** JavaScript modules with rules of the house's own, relative to the profile file. */
  readonly houseRules: readonly string[];
}

export const NO_PROFILE: Profile = { severity: {}, thresholds: {}, houseRules: [] };

/** The profile in a parsed file, or what is wrong with it. Rule names are checked later by `checkProfile`. */
export function readProfile(value: unknown): Profile | string {
  if (!isRecord(value)) return 'a profile is a mapping with `severity`, `thresholds` and `houseRules`';
  const keys = ['severity', 'thresholds', 'houseRules'];
  for (const key of Object.keys(value))
    if (!keys.includes(key)) return `unknown key \`${key}\` in the profile${didYouMean(key, keys)}`;
  const { severity = {}, thresholds = {}, houseRules = [] } = value;
  if (!isRecord(severity)) return '`severity` maps rule names to error, warning, note or off';
  const levels = [...SEVERITIES, 'off'];
  for (const [rule, level] of Object.entries(severity)) {
    if (typeof level !== 'string' || !levels.includes(level))
      return `the severity of \`${rule}\` is ${JSON.stringify(level)}; write error, warning, note or off`;
  }
  if (!isRecord(thresholds)) return '`thresholds` maps `family/fault.name` to numbers';
  for (const [name, number] of Object.entries(thresholds))
    if (typeof number !== 'number') return `the threshold \`${name}\` is ${JSON.stringify(number)}; write a number`;
  if (!Array.isArray(houseRules) || !houseRules.every((one) => typeof one === 'string'))
    return '`houseRules` is a list of JavaScript files';
  return { severity: severity as Profile['severity'], thresholds: thresholds as Profile['thresholds'], houseRules };
}

/** Names in a profile that no rule has; undefined when all are known. */
export function checkProfile(profile: Profile, rules: readonly Rule[]): string | undefined {
  const ids = rules.map((rule) => rule.id);
  for (const id of Object.keys(profile.severity))
    if (!ids.includes(id)) return `unknown rule \`${id}\` in the profile${didYouMean(id, ids)}`;
  const thresholds = thresholdNames(rules);
  for (const name of Object.keys(profile.thresholds))
    if (!thresholds.includes(name))
      return `unknown threshold \`${name}\` in the profile${didYouMean(name, thresholds)}`;
  return undefined;
}

export function thresholdNames(rules: readonly Rule[]): readonly string[] {
  return rules.flatMap((rule) => Object.keys(rule.thresholds ?? {}).map((name) => `${rule.id}.${name}`));
}

/** `; did you mean …`, or nothing. */
export function didYouMean(text: string, candidates: readonly string[]): string {
  const close = nearest(text, candidates);
  return close === undefined ? '' : `; did you mean \`${close}\`?`;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
