import {
  byLabel,
  clause,
  commonPractice,
  comparePrefixes,
  defineRule,
  formatPrefix,
  inRig,
  isIPv4,
  listNames,
  mark,
  networkOf,
  ownerLabel,
  rangeOf,
  subnetFor,
  UnionFind,
  type Address,
  type Device,
  type Interface,
  type Prefix,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'hosts/two-in-one-subnet',
  summary: 'Two interfaces of one device are in one subnet',
  severity: 'error',
  sources: [
    clause('RFC 1122', '3.3.4.2'),
    clause('RFC 3376', '3.2'),
    commonPractice('one subnet for each interface of a device'),
  ],
  needs: ['addresses'],
  *check({ plan }) {
    for (const device of plan.devices) {
      if (!mayMeet(device)) continue;
      for (const cluster of clustersOf(device)) {
        const interfaces = byLabel(cluster.interfaces, ownerLabel);
        const [first, second, ...rest] = interfaces;
        if (first === undefined || second === undefined) continue;
        const names = interfaces.map((one) => one.name);
        yield {
          subject: `${device.name} ${names.join(', ')}${inRig(device.rig)}`,
          parties: interfaces.map(ownerLabel),
          what: `interfaces ${listNames(names)} of ${device.name} are ${names.length === 2 ? 'both' : 'all'} in ${cluster.where}`,
          at: mark(second, `${ownerLabel(second)}: put this one into another subnet`, keyOf(second)),
          others: [first, ...rest].map((one) => mark(one, ownerLabel(one), keyOf(one))),
          onAir:
            'the device asks for a group on one interface and may drop what comes in on the other, or sends both legs out of one: no picture or no redundancy, and it changes with every restart',
          fix: 'give each interface a VLAN and subnet of its own; where they are one bonded pair, write them as one interface',
          touch: { kind: 'device', name: device.name },
        };
      }
    }
  },
});

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

interface Cluster {
  readonly interfaces: readonly Interface[];
  readonly where: string;
}

/** An interface with the subnet it is in for one family. */
interface Place {
  readonly one: Interface;
  readonly subnet: Prefix;
}

function clustersOf(device: Device): readonly Cluster[] {
  const met = new UnionFind<Interface>();
  const where = new Map<Interface, string>();
  const join = (a: Interface, b: Interface, text: string): void => {
    if (onePort(a, b)) return;
    met.union(a, b);
    where.set(met.find(a), text);
  };
  for (const four of [true, false]) {
    const inVlan = new Map<Vlan, Interface>();
    const places: Place[] = [];
    for (const one of device.interfaces) {
      const address = addressOf(one, four);
      if (address === undefined && !(four && one.dhcp)) continue;
      if (one.vlan !== undefined) {
        const before = inVlan.get(one.vlan);
        if (before === undefined) inVlan.set(one.vlan, one);
        else if (address === undefined || addressOf(before, four) !== address)
          join(before, one, `VLAN ${one.vlan.name}`);
      }
      const subnet = address === undefined ? undefined : subnetOfInterface(one, address);
      if (subnet !== undefined) places.push({ one, subnet });
    }
    sweep(places, join);
  }
  const clusters = new Map<Interface, Interface[]>();
  for (const one of device.interfaces) {
    if (!met.has(one)) continue;
    const root = met.find(one);
    const list = clusters.get(root);
    if (list === undefined) clusters.set(root, [one]);
    else list.push(one);
  }
  return [...clusters].map(([root, interfaces]) => ({ interfaces, where: where.get(root) ?? 'one subnet' }));
}

/** Joins interfaces whose subnets overlap: prefixes nest, so each lies in the widest that began before, or in none. */
function sweep(places: Place[], join: (a: Interface, b: Interface, text: string) => void): void {
  places.sort((a, b) => comparePrefixes(a.subnet, b.subnet));
  let widest: Place | undefined;
  for (const place of places) {
    if (widest === undefined || place.subnet.network > rangeOf(widest.subnet).last) {
      widest = place;
      continue;
    }
    // Two VLANs with overlapping subnets: subnets/overlap. Equal addresses: hosts/duplicate-address.
    const stated = [widest, place].every(
      ({ one, subnet }) => one.vlan?.subnet === subnet || one.vlan?.subnet6 === subnet,
    );
    if (stated || widest.subnet.address === place.subnet.address) continue;
    join(widest.one, place.one, formatPrefix(widest.subnet));
  }
}

/** The VLAN's subnet, else the interface's own; the host address stays in `address`. */
function subnetOfInterface(one: Interface, address: Address): Prefix | undefined {
  const stated = one.vlan === undefined ? undefined : subnetFor(one.vlan, address);
  if (stated !== undefined) return stated;
  const length = one.address === address ? one.prefixLength : one.prefixLength6;
  return length === undefined ? undefined : { address, network: networkOf(address, length), length };
}

function addressOf(one: Interface, four: boolean): Address | undefined {
  return [one.address, one.address6].find((address) => address !== undefined && isIPv4(address) === four);
}

/** Two addresses on one port are one interface to the network. */
function onePort(a: Interface, b: Interface): boolean {
  return a.port !== undefined && a.port === b.port;
}

function keyOf(one: Interface): string {
  return one.address !== undefined ? 'address' : one.address6 !== undefined ? 'address6' : 'vlan';
}
