/** Interfaces of one device that are in one subnet (RFC 1122 §3.3.4.2). */
import { append } from '../../collections/group-by.js';
import { UnionFind } from '../../collections/union-find.js';
import { areSeveral, type Several } from '../../collections/non-empty.js';
import type { Device, Interface, Vlan } from '../../plan/types.js';
import { rangeOf, type Prefix } from '../../values/address.js';
import { comparePrefixes, subnetFor } from './addressing.js';
import { addressOf, subnetOfAddress } from './own-subnet.js';

/** What two interfaces have in common. */
export type MeetingPlace = { readonly vlan: Vlan } | { readonly subnet: Prefix };

export interface MeetingInterfaces {
  /** In the order of the device. */
  readonly interfaces: Several<Interface>;
  /** Where they meet; undefined where several places hang together. */
  readonly where: MeetingPlace | undefined;
}

/** Sets of interfaces that meet; two addresses on one port, and the members of a bond, are one interface to the network. */
export function meetingInterfaces(device: Device): readonly MeetingInterfaces[] {
  if (!mayMeet(device)) return [];
  const met = new UnionFind<Interface>();
  const where = new Map<Interface, MeetingPlace>();
  const join: Join = (a, b, place) => {
    if (a.port !== undefined && a.port === b.port) return;
    if (a.bond !== undefined && a.bond === b.bond) return;
    met.union(a, b);
    where.set(met.find(a), place);
  };
  for (const four of [true, false]) {
    joinInVlans(device, four, join);
    joinOverlapping(
      device.interfaces.flatMap((one) => {
        const address = addressOf(one, four);
        const subnet = address === undefined ? undefined : subnetOfAddress(one, address);
        return subnet === undefined ? [] : [{ one, subnet }];
      }),
      join,
    );
  }
  const sets = new Map<Interface, [Interface, ...Interface[]]>();
  for (const one of device.interfaces) if (met.has(one)) append(sets, met.find(one), one);
  return [...sets].flatMap(([root, interfaces]) =>
    areSeveral(interfaces) ? [{ interfaces, where: where.get(root) }] : [],
  );
}

type Join = (a: Interface, b: Interface, place: MeetingPlace) => void;

/** Interfaces in VLANs of their own, all in the subnets these state, are left to the rules on VLANs and subnets. */
function mayMeet({ interfaces }: Device): boolean {
  for (let index = interfaces.length - 1; index > 0; index--) {
    const one = interfaces[index];
    for (let before = 0; before < index; before++) if (interfaces[before]?.vlan === one?.vlan) return true;
  }
  return interfaces.length > 1 && !interfaces.every(inStatedSubnets);
}

function inStatedSubnets({ vlan, address, address6 }: Interface): boolean {
  if (vlan === undefined) return false;
  return (
    (address === undefined || subnetFor(vlan, address) !== undefined) &&
    (address6 === undefined || subnetFor(vlan, address6) !== undefined)
  );
}

function joinInVlans({ interfaces }: Device, four: boolean, join: Join): void {
  const inVlan = new Map<Vlan, Interface>();
  for (const one of interfaces) {
    const address = addressOf(one, four);
    if (one.vlan === undefined || (address === undefined && !(four && one.dhcp))) continue;
    const before = inVlan.get(one.vlan);
    if (before === undefined) inVlan.set(one.vlan, one);
    else if (address === undefined || addressOf(before, four) !== address) join(before, one, { vlan: one.vlan });
  }
}

/** An interface with the subnet it is in for one family. */
interface Placed {
  readonly one: Interface;
  readonly subnet: Prefix;
}

/** Prefixes nest, so each lies in the widest that began before, or in none. */
function joinOverlapping(unsorted: readonly Placed[], join: Join): void {
  let widest: Placed | undefined;
  for (const placed of unsorted.toSorted((a, b) => comparePrefixes(a.subnet, b.subnet))) {
    if (widest === undefined || placed.subnet.network > rangeOf(widest.subnet).last) {
      widest = placed;
      continue;
    }
    // Two VLANs with overlapping subnets: subnets/overlap. Equal addresses: hosts/duplicate-address.
    const stated = [widest, placed].every(
      ({ one, subnet }) => one.vlan?.subnet === subnet || one.vlan?.subnet6 === subnet,
    );
    if (stated || widest.subnet.address === placed.subnet.address) continue;
    join(widest.one, placed.one, { subnet: widest.subnet });
  }
}
