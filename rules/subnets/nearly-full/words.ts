import { counted, type FindingWords, type Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  readonly vlan: Vlan;
  readonly subnet: string;
  /** Host addresses, and how many of them are used or needed. */
  readonly usable: number;
  readonly used: number;
  /** Parts of `used`: written down, handed out by DHCP, of boxes that have none yet. */
  readonly fixed: number;
  readonly dhcp: number;
  readonly unnumbered: number;
  /** A wider subnet that leaves enough free. */
  readonly wider: { readonly length: number; readonly subnet: string; readonly hosts: number } | undefined;
}

/** The mark is noted with how many addresses are left; below 0, how many are missing. */
export function words(facts: Facts): FindingWords<number> {
  const { vlan, subnet, usable, used, dhcp, wider } = facts;
  const over = used > usable;
  return {
    what: `${subnet} of VLAN ${vlan.name} has ${counted(usable, 'host address')}, and ${used} are ${over ? 'needed' : 'used'}: ${partsOf(facts)}`,
    onAir: over
      ? 'some boxes stay without an address: whoever is switched on last has no control'
      : `nothing yet; ${nextWithout(usable - used)} finds no address, and that shows on the day`,
    fix:
      wider === undefined
        ? 'move some boxes to another VLAN'
        : `make it a /${wider.length} (${wider.subnet}, ${counted(wider.hosts, 'host address')}) if no other VLAN uses the rest${dhcp === 0 ? '' : ', or shorten the DHCP range'}`,
    label: (name, left) => `${name}: ${left < 0 ? `${-left} too few` : left === 0 ? 'none left' : `${left} left`}`,
  };
}

function nextWithout(left: number): string {
  return left === 0 ? 'the next box' : left === 1 ? 'the second box that turns up' : `the box after the next ${left}`;
}

function partsOf({ fixed, dhcp, unnumbered }: Facts): string {
  const parts = [`${fixed} fixed`];
  if (dhcp > 0) parts.push(`${dhcp} by DHCP`);
  if (unnumbered > 0) parts.push(`${unnumbered} not given yet`);
  return parts.join(', ');
}
