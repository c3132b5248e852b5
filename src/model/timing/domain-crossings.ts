/** Clocks outside the PTP domains their rig plans, and media that pass from one domain to another (IEEE 1588-2008 §7.1). */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Plan, Receiver, Rig, Sender } from '../../plan/types.js';
import { clocksByName } from './clocks-by-name.js';
import type { Clock, TimingState } from './timing.js';

/** Clocks of one rig in one domain that the rig does not plan. */
export interface UnplannedDomain {
  /** By name. */
  readonly clocks: NonEmpty<Clock>;
  readonly domain: number;
  readonly rig: Rig;
  /** Domain numbers the rig states, lowest first. */
  readonly planned: readonly number[];
}

export function unplannedDomains(plan: Plan, { clocks }: TimingState): readonly UnplannedDomain[] {
  const strays = clocks.filter(({ rig, domain }) => plannedDomains(rig, plan)?.includes(domain) === false);
  return [...groupBy(strays, ({ domain, rig }) => `${domain} ${rig.name}`).values()].map((own) => {
    const [{ domain, rig }] = own;
    return { clocks: clocksByName(own), domain, rig, planned: plannedDomains(rig, plan) ?? [] };
  });
}

/** Numbers the rig states, in its timing or else its practice; undefined where it states none. */
function plannedDomains(rig: Rig, plan: Plan): readonly number[] | undefined {
  const numbers = plan.ptpDomains.flatMap((one) => (one.rig === rig ? (one.number ?? []) : []));
  if (numbers.length > 0) return [...new Set(numbers)].sort((a, b) => a - b);
  return rig.practice.ptpDomain === undefined ? undefined : [rig.practice.ptpDomain];
}

/** Two domains that streams pass between. */
export interface DomainCrossing {
  readonly low: number;
  readonly high: number;
  /** Clocks at either end of such a stream, by name. */
  readonly clocks: readonly Clock[];
  readonly streams: readonly CrossingStream[];
  /** The clocks in the domain with fewer of them, and the other domain: fewer boxes to change. */
  readonly few: NonEmpty<Clock>;
  readonly to: number;
}

export interface CrossingStream {
  readonly sender: Sender;
  readonly receiver: Receiver;
}

/** Only between clocks that state their domain; those of `unplanned` are a fault of their own. */
export function domainCrossings(
  plan: Plan,
  timing: TimingState,
  unplanned: readonly UnplannedDomain[],
): readonly DomainCrossing[] {
  const strays = new Set(unplanned.flatMap(({ clocks }) => clocks));
  const passing = plan.receivers.flatMap((receiver): readonly Passing[] => {
    const { device, takes: sender } = receiver;
    if (sender?.device?.ptp === undefined || device.ptp === undefined) return [];
    const to = timing.clockOf(device);
    const from = timing.clockOf(sender.device);
    if (to === undefined || from === undefined || to.domain === from.domain) return [];
    const isOpen = [to, from].some((clock) => clock.assumed.has('domain') || strays.has(clock));
    return isOpen ? [] : [{ sender, receiver, from, to }];
  });
  const sizes = groupBy(timing.clocks, ({ domain }) => domain);
  const sizeOf = (domain: number): number => sizes.get(domain)?.length ?? 0;
  const pairs = groupBy(passing, ({ from, to }) => [from.domain, to.domain].sort((a, b) => a - b).join(' '));
  return byLabel([...pairs], ([key]) => key).flatMap(([, own]): readonly DomainCrossing[] => {
    const [{ from, to: other }] = own;
    const low = Math.min(from.domain, other.domain);
    const high = Math.max(from.domain, other.domain);
    const clocks = clocksByName([...new Set(own.flatMap((one) => [one.to, one.from]))]);
    const to = sizeOf(low) < sizeOf(high) ? high : low;
    const few = clocks.filter(({ domain }) => domain !== to);
    const passed = own.map(({ sender, receiver }): CrossingStream => ({ sender, receiver }));
    const streams = byLabel([...new Map(passed.map((one) => [labelOf(one), one])).values()], labelOf);
    return isNonEmpty(few) ? [{ low, high, clocks, streams, few, to }] : [];
  });
}

interface Passing extends CrossingStream {
  readonly from: Clock;
  readonly to: Clock;
}

function labelOf({ sender, receiver }: CrossingStream): string {
  return `${sender.label} at ${receiver.label}`;
}
