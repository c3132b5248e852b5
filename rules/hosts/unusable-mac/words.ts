import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { UnusableMac } from '../../../src/doors/hosts.js';

export interface Facts {
  readonly mac: string;
  readonly holders: readonly string[];
  readonly kind: UnusableMac;
}

export function words({ mac, holders, kind }: Facts): FindingWords<'read-label'> {
  return {
    what: `MAC ${mac} of ${listNames(holders)} is ${KINDS[kind]}`,
    onAir:
      kind === 'zero' || kind === 'virtual-router'
        ? 'a DHCP reservation or a port filter made from it never fits: the box comes up without its address, or its port is shut'
        : 'a box set to it is not heard: switches never learn a group address, and flood or drop whatever is sent to it',
    fix: `write the MAC from the label of ${agree(holders.length, 'the box', 'each box')}, or leave it out until it is known`,
    label: (name) => `${name}: write the MAC from its label`,
  };
}

const KINDS: Readonly<Record<UnusableMac, string>> = {
  zero: 'all zeros, which stands for no MAC',
  broadcast: 'the broadcast address',
  group: "a group address, not one interface's",
  'group-ipv4': "a group address (that of an IPv4 group), not one interface's",
  'group-ipv6': "a group address (that of an IPv6 group), not one interface's",
  'virtual-router': 'that of a virtual router, but the box does not route',
};
