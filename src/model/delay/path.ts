/**
 * How long packets are on the way between two devices: links by their stated delay, else by their length. Switches add
 * some microseconds each, which a plan does not know and this leaves out.
 */
import { linkLabel } from '../vlans/index.js';
import type { Leg, Link, Receiver } from '../../plan/types.js';
import { planeOf, type ForwardingSegment, type Network, type Step, unicastStages } from '../network/index.js';
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

function stepsBetween(from: Leg, to: Receiver['legs'][number], network: Network): readonly Step[] | undefined {
  if (from.group === undefined) return unicastSteps(from, to, network);
  const home = network.forwardingOf(from);
  const beyond = network.forwardingOf(to);
  const start = nodeOf(home, from);
  const end = nodeOf(beyond, to);
  if (home === undefined || beyond === undefined || start === undefined || end === undefined) return undefined;
  if (home === beyond) return home.tree.path(start, end);
  const routed = network.flowsOf(from).find((flow) => flow.forwarding === beyond);
  const leaves = planeOf(home, from.group).routers.find((router) => router.on === routed?.through);
  if (routed === undefined || leaves === undefined) return undefined;
  const first = home.tree.path(start, leaves.node);
  const second = beyond.tree.path(routed.from, end);
  return first === undefined || second === undefined ? undefined : [...first, ...second];
}

/** A stream to one address passes as many segments as boxes forward it, and one more. */
function unicastSteps(leg: Leg, to: Receiver['legs'][number], network: Network): readonly Step[] | undefined {
  const route = network.routeOf(leg);
  if (route === undefined || route.stop !== undefined || route.end !== to.interface) return undefined;
  const found: Step[] = [];
  for (const stage of unicastStages(leg, route, network.forwardingAt)) {
    const { forwarding, from, to: target } = stage;
    const steps = from === undefined || target === undefined ? undefined : forwarding?.tree.path(from, target.node);
    if (steps === undefined) return undefined;
    found.push(...steps);
  }
  return found;
}

function nodeOf(forwarding: ForwardingSegment | undefined, leg: Pick<Leg, 'interface'>): number | undefined {
  const port = leg.interface?.port;
  return port === undefined ? undefined : forwarding?.segment.nodeOf.get(port.switch);
}

function wayOf(steps: readonly Step[]): Way {
  let ns = 0;
  const links: Link[] = [];
  const unmeasured: Link[] = [];
  for (const { edge } of steps) {
    const known = edge.links.flatMap((link) => linkDelayNs(link) ?? []);
    // A stream takes one member of a bundle, and the plan does not say which.
    if (known.length > 0) ns += Math.max(...known);
    else unmeasured.push(...edge.links);
    links.push(...edge.links);
  }
  return { ns, links, unmeasured };
}

/** The delay a link states, else that of its length. */
export function linkDelayNs({ delayNs, lengthM }: Link): number | undefined {
  return delayNs ?? (lengthM === undefined ? undefined : lengthM * PROPAGATION_NS_PER_M);
}

/** Links by their names. */
export function linkNames(links: readonly Link[]): readonly string[] {
  return links.map(linkLabel);
}
