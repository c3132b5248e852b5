/** How strict a rule is: what the profile says, else the rig's conventions, else the rule. */
import { kept } from '../collections/kept.js';
import type { Rig } from '../plan/types.js';
import type { Profile } from './profile.js';
import type { Rule, RuleContext } from './rule.js';

/** Looked up once a rig: rules ask for every link and port. */
export function thresholdsOf(rule: Rule, profile: Profile): RuleContext['threshold'] {
  const found = new Map<string, Map<Rig, number>>();
  return (name, rig) =>
    kept(
      kept(found, name, () => new Map<Rig, number>()),
      rig,
      () => thresholdOf(rule, name, profile, rig),
    );
}

/** The same of rules asked for by name, as `FAMILY/FAULT.threshold`; undefined where no such rule runs. */
export function thresholdsElsewhere(rules: readonly Rule[], profile: Profile): RuleContext['thresholdElsewhere'] {
  const found = new Map<string, ((rig: Rig) => number) | undefined>();
  return (key, rig) =>
    kept(found, key, () => {
      const [id = '', name = ''] = key.split('.');
      const rule = rules.find((one) => one.id === id);
      const threshold = rule === undefined ? undefined : thresholdsOf(rule, profile);
      return threshold === undefined ? undefined : (own) => threshold(name, own);
    })?.(rig);
}

function thresholdOf(rule: Rule, name: string, profile: Profile, rig: Rig): number {
  const declared = rule.thresholds?.[name];
  if (declared === undefined) throw new Error(`the rule asks for a threshold \`${name}\` it does not declare`);
  const key = `${rule.id}.${name}`;
  const said = [profile, rig.conventions].find(({ thresholds }) => Object.hasOwn(thresholds, key));
  return said?.thresholds[key] ?? declared.default;
}
