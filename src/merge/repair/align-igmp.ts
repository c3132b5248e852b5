/** VLANs that become one query and forget at one pace: that of the rig whose settings count. */
import { append } from '../../collections/group-by.js';
import type { GroupManagement, Plan, Rig, Vlan } from '../../plan/types.js';
import type { EditList } from '../../edits/edit-list.js';

type Value = number | boolean | string | undefined;

interface Setting {
  readonly key: string;
  readonly of: (management: GroupManagement) => Value;
  /** What holds where nobody says (RFC 3376 §8.1, §8.2, §8.3, §8.8; RFC 3810 §9). */
  readonly byDefault?: number;
}

const SETTINGS: readonly Setting[] = [
  { key: 'version', of: ({ version }) => version },
  { key: 'snooping', of: ({ snooping }) => snooping },
  { key: 'queryInterval', of: ({ queryIntervalS }) => queryIntervalS, byDefault: 125 },
  { key: 'queryResponseInterval', of: ({ queryResponseIntervalS }) => queryResponseIntervalS, byDefault: 10 },
  { key: 'lastMemberQueryInterval', of: ({ lastMemberQueryIntervalS }) => lastMemberQueryIntervalS, byDefault: 1 },
  { key: 'robustness', of: ({ robustness }) => robustness, byDefault: 2 },
  { key: 'unregistered', of: ({ unregistered }) => unregistered },
];

export function alignIgmp(plan: Plan, counts: Rig, edits: EditList): void {
  const joined = new Map<object, Vlan[]>();
  for (const vlan of plan.vlans) {
    if (vlan.joinedAs === undefined) continue;
    append(joined, vlan.joinedAs, vlan);
  }
  for (const vlans of joined.values()) {
    const leader = vlans.find(({ rig }) => rig === counts) ?? vlans[0];
    for (const vlan of vlans) {
      if (vlan === leader) continue;
      for (const protocol of ['igmp', 'mld'] as const) {
        const from = leader?.[protocol];
        const to = vlan[protocol];
        if (from !== undefined && to !== undefined) alignOne(from, to, edits);
      }
    }
  }
}

function alignOne(from: GroupManagement, to: GroupManagement, edits: EditList): void {
  for (const { key, of, byDefault } of SETTINGS) {
    const wanted = of(from) ?? byDefault;
    const own = of(to) ?? byDefault;
    if (wanted !== undefined && own !== undefined && wanted !== own) edits.set(to, key, wanted);
  }
}
