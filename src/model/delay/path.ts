/**
 * How long packets are on the way between two devices: links by their stated delay, else by their length. Switches add
 * some microseconds each, which a plan does not know and this leaves out.
 */
import { linkLabel } from '../vlans/index.js';
import type { Leg, Link, Receiver } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import { carriersOf, type ForwardingSegment, lasts, type Network, unicastStages } from '../network/index.js';
import { PROPAGATION_NS_PER_M } from './limits.js';

/** The way of one leg, or of the slowest of several. */
export interface Way {
  readonly ns: number;
  readonly links: readonly Link[];
  /** Links that state neither a delay nor a length; a bundle counts by those of its members that do. */
  readonly unmeasured: readonly Link[];
}

export interface Ways {
  /** The slowest of the legs whose way is known; undefined when none is. */
  readonly slowest: Way | undefined;
  /** Legs of which it is not known where they enter or leave the network. */
  readonly unplaced: readonly Leg[];
}

/** A redundant reception plays the later leg as well (ST 2022-7), so the slowest counts. */
export function waysTo(receiver: Receiver, network: Network): Ways {
  const unplaced: Leg[] = [];
  let slowest: Way | undefined;
  for (const leg of receiver.legs) {
    const { takes } = leg;
    if (takes === undefined) continue;
    const steps = stepsBetween(takes, leg, network);
    if (steps === undefined) {
      unplaced.push(takes);
      continue;
    }
    const way = wayOf(steps);
    const slower =
      slowest === undefined ||
      way.ns > slowest.ns ||
      (way.ns === slowest.ns && way.unmeasured.length > slowest.unmeasured.length);
    if (slower) slowest = way;
  }
  return { slowest, unplaced };
}

function stepsBetween(from: Leg, to: Receiver['legs'][number], network: Network): Hops | undefined {
  if (from.group === undefined) return unicastHops(from, to, network);
  const home = network.forwardingOf(from);
  const beyond = network.forwardingOf(to);
  const start = nodeOf(home, from);
  const end = nodeOf(beyond, to);
  if (home === undefined || beyond === undefined || start === undefined || end === undefined) return undefined;
  if (home === beyond) return hopsOf(home, start, end);
  const way = network.routing.way(
    { forwarding: home, node: start },
    { forwarding: beyond, node: end },
    isIPv4(from.group),
  );
  if (way.kind !== 'way' || !lasts(from, way.stages)) return undefined;
  const hops = way.stages.map((stage) => hopsOf(stage.forwarding, stage.from, stage.to));
  return hops.every((one) => one !== undefined) ? hops.flat() : undefined;
}

/** A stream to one address passes as many segments as boxes forward it, and one more. */
function unicastHops(leg: Leg, to: Receiver['legs'][number], network: Network): Hops | undefined {
  const route = network.routeOf(leg);
  if (route === undefined || route.stop !== undefined || route.end !== to.interface) return undefined;
  const found: (readonly Link[])[] = [];
  for (const stage of unicastStages(leg, route, network.forwardingAt)) {
    const { forwarding, from, to: target } = stage;
    const hops =
      forwarding === undefined || from === undefined || target === undefined
        ? undefined
        : hopsOf(forwarding, from, target.node);
    if (hops === undefined) return undefined;
    found.push(...hops);
  }
  return found;
}

/** Links that carry a stream, step by step. */
type Hops = readonly (readonly Link[])[];

function hopsOf(forwarding: ForwardingSegment, from: number, to: number): Hops | undefined {
  return forwarding.tree.path(from, to)?.map(({ edge }) => carriersOf(forwarding, edge));
}

function nodeOf(forwarding: ForwardingSegment | undefined, leg: Pick<Leg, 'interface'>): number | undefined {
  const port = leg.interface?.port;
  return port === undefined ? undefined : forwarding?.segment.nodeOf.get(port.switch);
}

function wayOf(hops: Hops): Way {
  let ns = 0;
  const links: Link[] = [];
  const unmeasured: Link[] = [];
  for (const carriers of hops) {
    const known = carriers.flatMap((link) => linkDelayNs(link) ?? []);
    // A stream takes one member of a bundle, and the plan does not say which.
    if (known.length > 0) ns += Math.max(...known);
    else unmeasured.push(...carriers);
    links.push(...carriers);
  }
  return { ns, links, unmeasured };
}

/** The delay a link states, else that of its length. */
export function linkDelayNs({ delayNs, lengthM }: Link): number | undefined {
  return delayNs ?? (lengthM === undefined ? undefined : lengthM * PROPAGATION_NS_PER_M);
}

/** Links by their names. Many long ways share their links, so that each name is put together once. */
export function linkNames(links: readonly Link[]): readonly string[] {
  return links.map(nameOf);
}

const NAMES = new WeakMap<Link, string>();

function nameOf(link: Link): string {
  let name = NAMES.get(link);
  if (name === undefined) NAMES.set(link, (name = linkLabel(link)));
  return name;
}
