/**
 * Interfaces that are written in one VLAN while their switch port and their address say another: the name of the VLAN is
 * the slip, and what follows from it is no further one.
 */
import { groupBy } from '../../collections/group-by.js';
import { mapAll, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { placeOf } from '../../plan/place.js';
import { vlanOfAddress, type VlanOfAddress } from '../../plan/resolve/placement.js';
import type { Interface, Kind, Plan, Vlan } from '../../plan/types.js';
import { inPrefix, type Address } from '../../values/address.js';
import { mayCarry } from '../vlans/index.js';
import { byLine, createLineUsers } from '../written/index.js';
import { subnetFor, type Addressing } from './addressing.js';
import { ownerLabel } from './owners.js';

/** One line that names a wrong VLAN. */
export interface WrongVlan {
  /** The kind that writes it for its devices; undefined where a device does. */
  readonly kind: Kind | undefined;
  /** As written. */
  readonly vlan: Vlan;
  /** What ports and addresses say. */
  readonly home: Vlan;
  /** Sorted by label. */
  readonly interfaces: NonEmpty<Interface>;
  /** How many with a port or an address have the VLAN from this line, those that nothing contradicts among them. */
  readonly users: number;
}

export interface WrongVlans {
  /** Interfaces whose port is known not to carry their VLAN, in plan order. */
  readonly strangers: readonly Interface[];
  readonly lines: readonly WrongVlan[];
  /** The line that is wrong about an interface. */
  readonly of: (one: Interface) => WrongVlan | undefined;
}

export function findWrongVlans(plan: Plan, addressing: Addressing): WrongVlans {
  const strangers = plan.interfaces.filter(
    ({ port, vlan }) => port !== undefined && vlan !== undefined && !mayCarry(port, vlan),
  );
  const suspects = new Set([...strangers, ...outside(addressing)]);
  const lines = suspects.size === 0 ? [] : wrongLines(plan, suspects, addressing);
  const found = new Map(lines.flatMap((line) => line.interfaces.map((one) => [one, line] as const)));
  return { strangers, lines, of: (one) => found.get(one) };
}

/** Interfaces with an address outside the subnet of their VLAN. */
function* outside({ fits }: Addressing): Iterable<Interface> {
  for (const { odd, outvotedBy, subnet } of fits.values())
    for (const { owner, address } of [...odd, ...(outvotedBy?.held ?? [])])
      if ('device' in owner && !inPrefix(address, subnet)) yield owner;
}

/** An interface and the VLAN it is in by what else is said of it. */
interface Astray {
  readonly one: Interface;
  readonly vlan: Vlan;
  readonly home: Vlan;
  /** Its port and its address agree on that. */
  readonly sure: boolean;
}

function wrongLines(plan: Plan, suspects: ReadonlySet<Interface>, addressing: Addressing): readonly WrongVlan[] {
  const vlanOf = vlanOfAddress(plan.vlans);
  const astray = new Map<Interface, Astray>();
  for (const one of suspects) {
    const found = homeOf(one, addressing, vlanOf);
    if (found !== undefined) astray.set(one, found);
  }
  // One of which neither port nor address is written takes no side.
  const usersOf = createLineUsers(plan, 'vlan', (one) => (one.port ?? one.address ?? one.address6) !== undefined);
  return byLine(astray.keys(), ({ device }) => device, 'vlan').flatMap(({ kind, things }) => {
    const all = things.flatMap((one) => astray.get(one) ?? []);
    return [...groupBy(all, ({ home }) => home).values()].flatMap((alike): readonly WrongVlan[] => {
      const [{ one: first, vlan, home, sure }] = alike;
      const users = kind === undefined ? 1 : usersOf(first);
      const whole = kind !== undefined && alike.length * 2 > users;
      if (whole && (alike.length > 1 || sure)) {
        const interfaces = byLabel(
          mapAll(alike, ({ one }) => one),
          ownerLabel,
        );
        return [{ kind, vlan, home, interfaces, users }];
      }
      // Where the line is right about most others, it is these boxes that are elsewhere.
      return alike.flatMap((its) =>
        its.sure ? [{ kind: undefined, vlan, home, interfaces: [its.one], users: 1 }] : [],
      );
    });
  });
}

function homeOf(one: Interface, addressing: Addressing, vlanOf: VlanOfAddress): Astray | undefined {
  const { vlan, port } = one;
  // A VLAN that nobody wrote was told from the port or the address.
  if (vlan === undefined || placeOf(one, 'vlan').key === undefined) return undefined;
  const refuses = port !== undefined && !mayCarry(port, vlan);
  const homes = new Set<Vlan>();
  for (const address of [one.address, one.address6]) {
    const subnet = address === undefined ? undefined : subnetFor(vlan, address);
    if (address === undefined || subnet === undefined) continue;
    if (inPrefix(address, subnet)) return undefined;
    // Where most of a VLAN's addresses lie elsewhere it may be its subnet that is wrong.
    if (!refuses && isOutvoted(addressing, subnet, address)) return undefined;
    // An address in nobody's subnet says nothing.
    const lies = vlanOf(one.device.rig, address);
    if (lies !== undefined) homes.add(lies);
  }
  const [home, ...more] = homes;
  if (more.length > 0 || home === vlan) return undefined;
  if (home !== undefined) {
    if (refuses) return mayCarry(port, home) ? { one, vlan, home, sure: true } : undefined;
    return port !== undefined && !mayCarry(port, home) ? undefined : { one, vlan, home, sure: false };
  }
  const access = refuses && port.trunk === undefined ? port.access : undefined;
  return access === undefined ? undefined : { one, vlan, home: access, sure: false };
}

function isOutvoted({ fits }: Addressing, subnet: Parameters<typeof inPrefix>[1], address: Address): boolean {
  const by = fits.get(subnet)?.outvotedBy;
  return by !== undefined && inPrefix(address, by.prefix);
}
