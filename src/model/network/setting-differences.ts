/** VLAN entries that are one VLAN on the network and set IGMP or MLD differently. */
import type { GroupManagement } from '../../plan/types.js';
import type { VlanSetting } from './group-segments.js';
import { DEFAULT_TIMERS } from './timers.js';

/** Worst first, as long as entries state them: those that make it two networks, then those that only cost a little. */
export const SETTINGS = [
  'version',
  'snooping',
  'queryIntervalS',
  'queryResponseIntervalS',
  'robustness',
  'lastMemberQueryIntervalS',
  'unregistered',
] as const;
export type SettingKey = (typeof SETTINGS)[number];
export type SettingValue = number | boolean | 'flood' | 'drop';

const GRAVE: ReadonlySet<SettingKey> = new Set<SettingKey>([
  'version',
  'snooping',
  'queryIntervalS',
  'queryResponseIntervalS',
  'robustness',
]);

/** What RFC 3376 §8.1 to §8.3, and RFC 3810 §9.1 to §9.3 alike, give to a box that is told nothing. */
const DEFAULTS: Partial<Readonly<Record<SettingKey, number>>> = {
  queryIntervalS: DEFAULT_TIMERS.queryIntervalS,
  queryResponseIntervalS: DEFAULT_TIMERS.queryResponseIntervalS,
  robustness: DEFAULT_TIMERS.robustness,
};

/** What an entry sets; undefined where it does not say and there is no default. */
export interface SetValue {
  readonly value: SettingValue | undefined;
  readonly byDefault: boolean;
}

export interface SettingDifference {
  readonly setting: SettingKey;
  readonly severity: 'error' | 'warning';
  /** False where only what is stated and a default differ. */
  readonly stated: boolean;
  /** In the order of the entries. */
  readonly values: readonly SetValue[];
}

/** Settings that differ in what is stated, or, where an entry leaves out what has a default, from that; worst first. */
export function settingDifferences(entries: readonly VlanSetting[]): readonly SettingDifference[] {
  const found = SETTINGS.flatMap((setting) => differenceIn(setting, entries) ?? []);
  return [
    ...found.filter(({ severity }) => severity === 'error'),
    ...found.filter(({ severity }) => severity !== 'error'),
  ];
}

function differenceIn(setting: SettingKey, entries: readonly VlanSetting[]): SettingDifference | undefined {
  const otherwise = DEFAULTS[setting];
  const values = entries.map(({ management }) => valueOf(management, setting));
  const stated = new Set(values.filter((value) => value !== undefined));
  const filled = values.map((value): SetValue => ({
    value: value ?? otherwise,
    byDefault: value === undefined && otherwise !== undefined,
  }));
  if (stated.size > 1)
    return { setting, severity: GRAVE.has(setting) ? 'error' : 'warning', stated: true, values: filled };
  // Nobody is bound to the default: it only tells what a switch does that is told nothing.
  const open = values.includes(undefined);
  if (stated.size === 0 || !open || otherwise === undefined || stated.has(otherwise)) return undefined;
  return { setting, severity: 'warning', stated: false, values: filled };
}

function valueOf(management: GroupManagement, setting: SettingKey): SettingValue | undefined {
  return management[setting];
}
