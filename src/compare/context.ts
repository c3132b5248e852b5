/** What comparing one part of two plans needs to know of the rest. */
import type { Device, Plan, Switch, Vlan } from '../plan/types.js';
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
  /** A box as the new plan has it. */
  readonly now: <T extends Switch | Device>(box: T) => T;
}

export function createContext(before: Plan, after: Plan): Context {
  const pairing = pairPlans(before, after);
  const leaving = new Set<Switch | Device>([...pairing.switches.gone, ...pairing.devices.gone]);
  const arriving = new Set<Switch | Device>([...pairing.switches.fresh, ...pairing.devices.fresh]);
  const later = new Map<Switch | Device, Switch | Device>([...pairing.switches.both, ...pairing.devices.both]);
  return {
    before,
    after,
    pairing,
    carriersBefore: carriersOf(before),
    carriersAfter: carriersOf(after),
    leaves: (box) => leaving.has(box),
    arrives: (box) => arriving.has(box),
    // A switch is matched with a switch and a device with a device.
    now: <T extends Switch | Device>(box: T) => (later.get(box) ?? box) as T,
  };
}
