/** What comparing one part of two plans needs to know of the rest. */
import { groupBy } from '../collections/group-by.js';
import { once } from '../collections/once.js';
import type { Device, Link, LinkEnd, Plan, Port, Switch, Vlan } from '../plan/types.js';
import { carriersOf } from './carriers.js';
import { pairPlans, type Pairing } from './pairing.js';

export interface Context {
  readonly before: Plan;
  readonly after: Plan;
  readonly pairing: Pairing;
  readonly carriersBefore: ReadonlyMap<Vlan, ReadonlySet<Switch>>;
  readonly carriersAfter: ReadonlyMap<Vlan, ReadonlySet<Switch>>;
  /** True for a box that the new plan has no more. */
  readonly leaves: (box: Switch | Device) => boolean;
  /** True for a box that the old plan does not have: it is set up from its card, as a whole. */
  readonly arrives: (box: Switch | Device) => boolean;
  /** Ends of the old plan's links at a switch. */
  readonly endsBefore: (one: Switch) => readonly LinkEnd[];
  /** Whether a link of the new plan leads from a port to another rig. */
  readonly isTied: (port: Port) => boolean;
  /** Whether several VLANs of the new plan have an id. */
  readonly isShared: (id: number) => boolean;
  /** A box as the new plan has it. */
  readonly now: <T extends Switch | Device>(box: T) => T;
}

export function createContext(before: Plan, after: Plan): Context {
  const pairing = pairPlans(before, after);
  const leaving = new Set<Switch | Device>([...pairing.switches.gone, ...pairing.devices.gone]);
  const arriving = new Set<Switch | Device>([...pairing.switches.fresh, ...pairing.devices.fresh]);
  const ends = once(() =>
    groupBy(
      before.links.flatMap((link) => link.ends),
      (end) => end.switch,
    ),
  );
  const tied = once(() => new Set(after.links.filter(isTie).flatMap((link) => link.ends.map((end) => end.port))));
  const byId = once(() => groupBy(after.vlans, ({ id }) => id));
  const later = new Map<Switch | Device, Switch | Device>([...pairing.switches.both, ...pairing.devices.both]);
  return {
    before,
    after,
    pairing,
    carriersBefore: carriersOf(before),
    carriersAfter: carriersOf(after),
    leaves: (box) => leaving.has(box),
    arrives: (box) => arriving.has(box),
    endsBefore: (one) => ends().get(one) ?? [],
    isTied: (port) => tied().has(port),
    isShared: (id) => (byId().get(id)?.length ?? 0) > 1,
    // A switch is matched with a switch and a device with a device.
    now: <T extends Switch | Device>(box: T) => (later.get(box) ?? box) as T,
  };
}

/** Whether a link makes one network of those of two rigs. */
export function isTie({ ends: [a, b] }: Link): boolean {
  return a.switch !== undefined && b.switch !== undefined && a.switch.rig !== b.switch.rig;
}
