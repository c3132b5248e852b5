/** A profile: how severe each rule is, its thresholds, and convention rules to load. Never part of a plan. */
import { didYouMean, thresholdNames, type Profile } from '../lint/profile.js';
import type { Rule } from '../lint/rule.js';
import { check } from '../read/checks/profile.js';
import { readTree, type Input } from '../read/index.js';
import type { Document } from '../source/document.js';
import { locateAll } from '../source/locate.js';
import type { Problem } from '../source/problem.js';

/** A profile as its file says it. */
export interface ConventionProfile extends Profile {
  /** JavaScript modules with rules of the conventions' own, relative to the profile file. */
  readonly conventionRules: readonly string[];
  readonly document: Document;
}

export type ProfileResult =
  | { readonly profile: ConventionProfile; readonly problems: readonly [] }
  | { readonly profile: undefined; readonly problems: readonly Problem[] };

/** Reads a profile and holds it against its schema; `unknownNames` tells whether it speaks of rules there are. */
export function readProfile(input: Input): ProfileResult {
  const { document, problems } = readTree(input, { name: 'profile', check });
  if (document === undefined) return { profile: undefined, problems };
  const { severity = {}, thresholds = {}, conventionRules = [] } = rawProfile(document);
  return { profile: { severity, thresholds, conventionRules, document }, problems: [] };
}

/** Rules and thresholds a profile speaks of and nobody has, each where it stands. */
export function unknownNames({ document }: ConventionProfile, rules: readonly Rule[]): readonly Problem[] {
  const { severity = {}, thresholds = {} } = rawProfile(document);
  const ids = rules.map(({ id }) => id);
  const faults = [
    ...strangers(severity, ids).map(({ name, hint }) => ({
      place: { document, container: severity, key: name, onKey: true },
      what: `no rule is called \`${name}\`${hint}`,
      instead: '`rigproof rules` lists the rules',
    })),
    ...strangers(thresholds, thresholdNames(rules)).map(({ name, hint }) => ({
      place: { document, container: thresholds, key: name, onKey: true },
      what: `no rule has a threshold \`${name}\`${hint}`,
      instead: '`rigproof explain RULE` lists the thresholds of a rule',
    })),
  ];
  const at = locateAll(faults.map(({ place }) => place));
  return faults.map(({ place, what, instead }) => ({ at: at(place), what, instead }));
}

function strangers(
  named: object,
  known: readonly string[],
): readonly { readonly name: string; readonly hint: string }[] {
  return Object.keys(named)
    .filter((name) => !known.includes(name))
    .map((name) => ({ name, hint: didYouMean(name, known) }));
}

/** The tree of a profile that has passed its schema. */
function rawProfile(
  document: Document,
): Partial<Pick<ConventionProfile, 'severity' | 'thresholds' | 'conventionRules'>> {
  return document.value as Partial<ConventionProfile>;
}
