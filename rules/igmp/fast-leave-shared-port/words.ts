import {
  agree,
  hostLabel,
  legLabel,
  linkLabel,
  listNames,
  type FindingWords,
  type Interface,
  type Leg,
  type Link,
  type Vlan,
} from '../../../src/doors/rule.js';
import { protocolName, type Protocol } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly protocol: Protocol;
  /** Where fast leave is on: `VLAN red-video`. */
  readonly where: string;
  /** The VLAN that says so. */
  readonly vlan: Vlan;
  /** The links that serve several receivers. */
  readonly links: readonly Link[];
  /** For the first of them, a stream that several take behind it. */
  readonly leg: Leg;
  readonly group: string;
  readonly hosts: readonly Interface[];
}

export type Note = 'fastLeave' | 'severalBehind';

export function words({ protocol, where, vlan, links, leg, group, hosts }: Facts): FindingWords<Note> {
  const names = links.map(linkLabel);
  const takers = listNames(hosts.map(hostLabel), 4);
  return {
    what: `${protocolName(protocol)} fast leave is on in ${where}, but ${agree(names.length, 'link')} ${listNames(names)} ${agree(names.length, 'serves', 'serve')} several receivers of one stream: over ${names[0] ?? ''} ${takers} take ${legLabel(leg)} (${group})`,
    onAir: `the first of ${takers} that leaves ${legLabel(leg)} takes it from the ${hosts.length === 2 ? 'other' : 'others'} at once: black or silent until the next query is answered`,
    fix: `switch fast leave off in VLAN ${vlan.name}, or on every port towards another switch`,
    label: (name, note) => `${name}: ${note === 'fastLeave' ? 'fast leave' : 'several receivers behind it'}`,
  };
}
