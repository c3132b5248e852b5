/** Networks that are taken to carry no PTP: those for management, where a domain does not say on which ones it runs. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Network, Rig } from '../../plan/types.js';
import { isSwitch, type ClockFacts } from './clocks.js';

/** One a rig and domain that states no networks. */
export interface Untimed {
  readonly domain: number;
  readonly rig: Rig;
  /** For management, with clocks of the domain that do not list their interfaces themselves; by name. */
  readonly networks: NonEmpty<Network>;
}

/** Where all clocks of a domain stand on networks for management alone, these carry it: nothing else could be meant. */
export function untimedNetworks(clocks: readonly ClockFacts[]): readonly Untimed[] {
  const open = clocks.filter(({ planned }) => planned?.networks === undefined);
  return [...groupBy(open, keyOf).values()].flatMap((own): readonly Untimed[] => {
    const places = own.flatMap(({ owner, settings }) =>
      isSwitch(owner) || settings.interfaces !== undefined ? [] : owner.interfaces.map(({ network }) => network),
    );
    if (places.every((network) => network?.role === 'management')) return [];
    const networks = new Set(places.flatMap((network) => (network?.role === 'management' ? [network] : [])));
    const sorted = byLabel([...networks], ({ name }) => name);
    return isNonEmpty(sorted) ? [{ domain: own[0].domain, rig: own[0].rig, networks: sorted }] : [];
  });
}

/** Whether a clock's domain runs on any of the networks; it does where either is not stated. */
export type RunsOn = (clock: ClockFacts, networks: ReadonlySet<Network>) => boolean;

export function createRunsOn(clocks: readonly ClockFacts[]): RunsOn {
  const untimed = new Map(untimedNetworks(clocks).map((one) => [keyOf(one), new Set(one.networks)]));
  return (clock, networks) => {
    if (networks.size === 0) return true;
    const stated = clock.planned?.networks;
    if (stated !== undefined) return stated.some((one) => networks.has(one));
    const none = untimed.get(keyOf(clock));
    return none === undefined || [...networks].some((one) => !none.has(one));
  };
}

function keyOf({ domain, rig }: Pick<ClockFacts, 'domain' | 'rig'>): string {
  return `${domain} ${rig.name}`;
}
