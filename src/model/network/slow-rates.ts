/** Hosts whose own rate is too little for what they send or get, on ports that have room for it: their rate is to be doubted. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Interface, Kind, Rig } from '../../plan/types.js';
import { byLine } from '../written/index.js';
import { fullPorts, type FullPort, type PortGround } from './full-ports.js';

/** One line that says a rate. */
export interface SlowRate {
  /** The kind that writes it; undefined where a device does. */
  readonly kind: Kind | undefined;
  readonly hosts: NonEmpty<Interface>;
  /** Both directions of their ports, as far as too full. */
  readonly full: NonEmpty<FullPort>;
}

export function slowRates(full: readonly FullPort[], percentOf: (rig: Rig) => number): readonly SlowRate[] {
  const byHost = groupBy(
    full.filter((one) => !one.byFlood && hasRoom(one, percentOf)),
    ({ host }) => host,
  );
  return byLine(byHost.keys(), ({ device }) => device, 'rate').flatMap(({ kind, things }) => {
    const its = things.flatMap((host) => byHost.get(host) ?? []);
    return isNonEmpty(its) ? [{ kind, hosts: things, full: its }] : [];
  });
}

/** Whether the port would do, were its host as fast. */
function hasRoom({ port, host, rateBps, loadBps }: FullPort, percentOf: (rig: Rig) => number): boolean {
  if (port.rateBps === undefined || port.rateBps <= rateBps) return false;
  return loadBps <= (port.rateBps * percentOf(host.device.rig)) / 100;
}

/**
 * Interfaces whose rate `capacity/port-overload` finds too little: that it is not their port's rate follows. Where that rule
 * does not judge, its threshold is undefined and nothing counts as full.
 */
export function tooSlow(ground: PortGround, percentOf: (rig: Rig) => number | undefined): ReadonlySet<Interface> {
  const known = (rig: Rig): number => percentOf(rig) ?? Infinity;
  return new Set(slowRates(fullPorts(ground, known), known).flatMap(({ hosts }) => hosts));
}
