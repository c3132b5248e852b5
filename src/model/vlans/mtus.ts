/**
 * Where packets meet a port that takes less than the one before. An MTU in octets, as RFC 2923 §2.1 means it: what is
 * larger is dropped, and on a switch nobody is told.
 */
import { append, groupBy } from '../../collections/group-by.js';
import { isNonEmpty, lastOf, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Link, Plan, Port, Rig, Switch, Vlan } from '../../plan/types.js';
import { knownEnds, linkEnds, vlansOfPort } from './trunks.js';

export interface SizedPort {
  readonly port: Port;
  readonly mtuOctets: number;
}

/** A port without an MTU of its own has its switch's. */
export function mtuEntity(port: Port): Port | Switch {
  return Object.hasOwn(port.origin.container, 'mtu') ? port : port.switch;
}

/** Ports whose MTU is written in one place count once; the last of them stands for all. */
export function oncePerEntry(ports: readonly SizedPort[]): readonly SizedPort[] {
  return [...groupBy(ports, ({ port }) => entryOf(port)).values()].map(lastOf);
}

function entryOf(port: Port): object {
  return mtuEntity(port).origin.container;
}

/** Per VLAN that states an MTU, the ports that carry it with less. */
export function smallPorts(plan: Plan): ReadonlyMap<Vlan, NonEmpty<SizedPort>> {
  const found = new Map<Vlan, [SizedPort, ...SizedPort[]]>();
  for (const one of plan.switches) {
    for (const port of one.ports.values()) {
      const { mtu } = port;
      if (mtu === undefined) continue;
      for (const vlan of new Set(vlansOfPort(port)))
        if (vlan.mtu !== undefined && vlan.mtu > mtu) append(found, vlan, { port, mtuOctets: mtu });
    }
  }
  return found;
}

/** A link whose ends take packets of different sizes, seen from the end that is unlike the rest. */
export interface MtuStep {
  readonly link: Link;
  readonly odd: SizedPort;
  readonly other: SizedPort;
}

export interface OddMtu {
  /** Links with one odd end, or one odd switch, in the order of their ends. */
  readonly steps: NonEmpty<MtuStep>;
  /** The MTUs at the other ends, in octets: the one that stands most often in the rig first, then the larger. */
  readonly wantedOctets: NonEmpty<number>;
}

/** `told`: ports of which enough has been said. */
export function oddMtus(plan: Plan, told: ReadonlySet<Port>): readonly OddMtu[] {
  const unlike = plan.links.flatMap((link): readonly UnlikeEnds[] => {
    const ends = knownEnds(link);
    if (ends === undefined || ends.some(({ port }) => told.has(port))) return [];
    const [a, b] = [sized(ends[0].port), sized(ends[1].port)];
    if (a === undefined || b === undefined || a.mtuOctets === b.mtuOctets) return [];
    return [a.mtuOctets < b.mtuOctets ? { link, low: a, high: b } : { link, low: b, high: a }];
  });
  if (unlike.length === 0) return [];
  const votes = votesFor(plan);
  const steps = unlike.map((one) => stepOf(one, votes));
  return [...groupBy(steps, ({ odd }) => entryOf(odd.port)).values()].flatMap((own) => {
    const sorted = byLabel(own, ({ link }) => linkEnds(link));
    const agreed = votes.get(sorted[0].odd.port.switch.rig)?.exact;
    const wantedOctets = [...new Set(sorted.map(({ other }) => other.mtuOctets))].sort(
      (a, b) => (agreed?.get(b) ?? 0) - (agreed?.get(a) ?? 0) || b - a,
    );
    return isNonEmpty(wantedOctets) ? [{ steps: sorted, wantedOctets }] : [];
  });
}

interface UnlikeEnds {
  readonly link: Link;
  readonly low: SizedPort;
  readonly high: SizedPort;
}

function sized(port: Port): SizedPort | undefined {
  return port.mtu === undefined ? undefined : { port, mtuOctets: port.mtu };
}

/** The end whose MTU fewest agree with; a VLAN that needs more than the low end takes is for the high one. Else the low one. */
function stepOf({ link, low, high }: UnlikeEnds, votes: ReadonlyMap<Rig, Votes>): MtuStep {
  const forLow = votes.get(low.port.switch.rig)?.exact.get(low.mtuOctets) ?? 0;
  const own = votes.get(high.port.switch.rig);
  const needMore = own?.vlans.filter((mtu) => mtu > low.mtuOctets && mtu < high.mtuOctets) ?? [];
  const forHigh = (own?.exact.get(high.mtuOctets) ?? 0) + needMore.length;
  return forHigh < forLow ? { link, odd: high, other: low } : { link, odd: low, other: high };
}

/** What a rig writes of MTUs: how often each stands at a switch, at a port of its own or at a VLAN, and those of VLANs. */
interface Votes {
  readonly exact: ReadonlyMap<number, number>;
  readonly vlans: readonly number[];
}

function votesFor(plan: Plan): ReadonlyMap<Rig, Votes> {
  const written = new Map<Rig, { readonly exact: Map<number, number>; readonly vlans: number[] }>(
    plan.rigs.map((rig) => [rig, { exact: new Map<number, number>(), vlans: [] }]),
  );
  const vote = (rig: Rig, mtu: number | undefined): void => {
    const exact = written.get(rig)?.exact;
    if (mtu !== undefined) exact?.set(mtu, (exact.get(mtu) ?? 0) + 1);
  };
  for (const one of plan.switches) {
    vote(one.rig, one.mtu);
    const own = [...one.ports.values()].filter((port) => mtuEntity(port) === port);
    for (const port of new Map(own.map((one) => [one.origin.container, one])).values()) vote(one.rig, port.mtu);
  }
  for (const { rig, mtu } of plan.vlans) {
    vote(rig, mtu);
    if (mtu !== undefined) written.get(rig)?.vlans.push(mtu);
  }
  return written;
}
