/** What time passes on its way from grandmaster to follower, and who is cut off by its transport. */
import type { PtpTransport, Rig, Switch } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import { groupBy } from '../../collections/group-by.js';
import { isSwitch } from './clocks.js';
import { mayLead } from './intent.js';
import type { Clock, ClockPort, TimingState } from './timing.js';

/** A switch that is no clock, with the clocks that get their time through it. */
export interface Unaware {
  readonly at: Switch;
  /** By name. */
  readonly served: readonly Clock[];
  /** Boundary clocks of the same rig and domain, by name. */
  readonly boundary: readonly Clock[];
}

/** Only where the rig has boundary clocks in the domain: else its plan does not rely on them. */
export function unawareSwitches(state: TimingState): readonly Unaware[] {
  const found = new Map<Switch, Set<Clock>>();
  for (const clock of state.clocks) {
    const parent = state.outcomeOf(clock)?.parent;
    if (parent === undefined) continue;
    for (const port of [clock.ports[parent.through], parent.clock.ports[parent.port]]) {
      const at = port === undefined ? undefined : beyond(port);
      if (at === undefined || takesPart(at)) continue;
      const served = found.get(at);
      if (served === undefined) found.set(at, new Set([clock]));
      else served.add(clock);
    }
  }
  const boundary = groupBy(
    state.clocks.filter(({ relays, owner }) => relays && isSwitch(owner)),
    keyOf,
  );
  return [...found].flatMap(([at, clocks]): readonly Unaware[] => {
    const served = named([...clocks]);
    const others = [...new Set(served.map(keyOf))].flatMap((key) => boundary.get(key) ?? []);
    return others.length === 0 ? [] : [{ at, served, boundary: named([...new Set(others)]) }];
  });
}

/** The switch on the other side of a PTP port: the one a device is plugged into, or the far end of a link. */
function beyond({ attachment }: ClockPort): Switch | undefined {
  return attachment.interface?.port?.switch ?? attachment.towards;
}

/** Any PTP mode but `none`: an ordinary clock's switch is a matter of its own. */
function takesPart({ ptp }: Switch): boolean {
  return ptp !== undefined && ptp.mode !== 'none';
}

/** Clocks whose transport none of those meant to lead their rig's domain speaks. */
export interface TransportSplit {
  /** What the ones meant to lead speak. */
  readonly led: PtpTransport;
  readonly cut: readonly Clock[];
}

export function splitByTransport(state: TimingState): readonly TransportSplit[] {
  const known = state.clocks.filter(({ assumed, ports }) => !assumed.has('transport') && ports.length > 0);
  return [...groupBy(known, keyOf).values()].flatMap((clocks): readonly TransportSplit[] => {
    const led = new Set(clocks.filter((one) => one.meantToLead && mayLead(one)).map(({ transport }) => transport));
    const [first] = [...led].sort();
    const cut = first === undefined ? [] : clocks.filter(({ transport }) => !led.has(transport));
    return first === undefined || cut.length === 0 ? [] : [{ led: first, cut }];
  });
}

/** Devices whose PTP over this transport reaches another one's in a switched domain without a boundary clock between. */
export function ptpHostsIn(
  { timing, domains }: PtpSurroundings,
  domain: Domain,
  transport: PtpTransport,
): readonly Clock[] {
  const onPath = new Map<number, Set<Clock>>();
  for (const clock of timing.clocks) {
    if (clock.transport !== transport || clock.assumed.has('transport')) continue;
    for (const { path, attachment } of clock.ports) {
      if (attachment.interface === undefined || domains.switched(attachment.interface) !== domain) continue;
      const there = onPath.get(path);
      if (there === undefined) onPath.set(path, new Set([clock]));
      else there.add(clock);
    }
  }
  return [...new Set([...onPath.values()].flatMap((clocks) => (clocks.size > 1 ? [...clocks] : [])))];
}

export interface PtpSurroundings {
  readonly timing: TimingState;
  readonly domains: Pick<Domains, 'switched'>;
}

function keyOf({ rig, domain }: { readonly rig: Rig; readonly domain: number }): string {
  return `${domain} ${rig.name}`;
}

function named(clocks: readonly Clock[]): readonly Clock[] {
  return [...clocks].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}
