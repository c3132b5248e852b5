import { listNames, withRig, type FindingWords, type NonEmpty, type Vlan } from '../../../src/doors/rule.js';
import {
  formatSeconds,
  protocolName,
  type Protocol,
  type SettingKey,
  type SettingValue,
} from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  readonly vlans: readonly Vlan[];
  /** Worst first; values in the order of the VLANs. */
  readonly differences: NonEmpty<{ readonly setting: SettingKey; readonly values: readonly SetValue[] }>;
}

/** Without a value where an entry does not say and there is no default. */
interface SetValue {
  readonly value: SettingValue | undefined;
  readonly byDefault: boolean;
}

/** What one VLAN entry sets. */
export type Note = readonly (SetValue & { readonly setting: SettingKey })[];

export function words({ protocol, vlans, differences }: Facts): FindingWords<Note> {
  const names = vlans.map(withRig);
  const each = differences.map(({ setting, values }) => {
    const stated = values.flatMap((one, index) =>
      one.value === undefined ? [] : [`${valueWords(setting, one)} in VLAN ${names[index] ?? ''}`],
    );
    return `${NAMES[setting]} ${listNames(stated)}`;
  });
  return {
    what: `${listNames(names)} are one VLAN on the network, but their ${protocolName(protocol)} settings differ: ${each.join('; ')}`,
    onAir: ON_AIR[differences[0].setting],
    fix: `write one value in all of them, and set it on every switch of the VLAN: ${listNames(differences.map(({ setting }) => NAMES[setting]))}`,
    label: (name, note) =>
      `${name}: ${note.map(({ setting, ...one }) => `${NAMES[setting]} ${valueWords(setting, one)}`).join(', ')}`,
  };
}

function valueWords(setting: SettingKey, { value, byDefault }: SetValue): string {
  if (value === undefined) return 'not stated';
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  const text = typeof value === 'number' && TIMES.has(setting) ? formatSeconds(value) : String(value);
  return byDefault ? `${text} by default` : text;
}

const TIMES: ReadonlySet<SettingKey> = new Set<SettingKey>([
  'queryIntervalS',
  'queryResponseIntervalS',
  'lastMemberQueryIntervalS',
]);

const NAMES: Readonly<Record<SettingKey, string>> = {
  version: 'version',
  snooping: 'snooping',
  queryIntervalS: 'query interval',
  queryResponseIntervalS: 'query response interval',
  robustness: 'robustness',
  lastMemberQueryIntervalS: 'last member query interval',
  unregistered: 'groups nobody joined',
};

const TIMERS =
  'members are asked at one pace and forgotten at another: streams drop out every few minutes and come back with the next query';

const ON_AIR: Readonly<Record<SettingKey, string>> = {
  version:
    'a newer query is not understood on the older side, an older one makes all hosts fall back: joins by source fail, or do not arrive at all',
  snooping:
    'one part floods every stream to every port, the other forwards what was joined: ports on the flooded side fill first',
  queryIntervalS: TIMERS,
  queryResponseIntervalS: TIMERS,
  robustness: TIMERS,
  lastMemberQueryIntervalS:
    'after a leave one side stops the stream before the other has asked who still wants it: a receiver that stays may see a short drop',
  unregistered:
    'one part floods groups nobody joined, the other drops them: a stream is there or not depending on the switch',
};
