/**
 * Aggregates of links stream by stream. A stream keeps to one member, so that its packets stay in order, and which one is
 * the sending switch's own choice (IEEE 802.1AX-2020 6.2.7: from memory; measured on Open vSwitch 3.1): the sum of the
 * members is a hope for many small streams and none for a large one.
 */
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Leg, Link, Plan } from '../../plan/types.js';
import { onwardRouters, type Flow, type Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { isUnasked, marksFor, walkFlood, type Marks } from './forward.js';
import type { Carriage } from './full-links.js';
import { bundlesOf } from './bundles.js';
import { linkUses, type LinkUse } from './link-use.js';
import { linkRate, type Edge } from './segment.js';
import { spreadOf } from './spread.js';
import { nodesBelow } from './tree.js';

export interface PassingStream {
  readonly leg: Leg;
  readonly rateBps: number;
}

export interface AggregateUse {
  readonly use: LinkUse;
  readonly links: NonEmpty<Link>;
  /** Of the slowest member. */
  readonly memberBps: number;
  /** Streams of the busier direction, the largest first. */
  readonly streams: readonly PassingStream[];
}

/** Every aggregate between two switches of which one member could not hold all streams of its VLANs, in plan order. */
export function aggregateUses(plan: Plan, carriage: Carriage): readonly AggregateUse[] {
  if (carriage.headroom.membersHoldAll()) return [];
  const { network, load, rates } = carriage; // costly to ask for
  return linkUses(plan, network, load).flatMap((use) => {
    const { links, spans } = use;
    const members = links.map(linkRate).filter((rate) => rate !== undefined);
    if (links.length < 2 || members.length < links.length) return [];
    const streams = spans.flatMap(({ forwarding, edge, from }) =>
      crossing(network, forwarding, edge, from).flatMap((leg): PassingStream[] => {
        const rateBps = rates.onWire(leg)?.onLink;
        return rateBps === undefined ? [] : [{ leg, rateBps }];
      }),
    );
    streams.sort((a, b) => b.rateBps - a.rateBps);
    return [{ use, links, memberBps: Math.min(...members), streams }];
  });
}

/** Streams that cross an edge of a segment away from one of its ends. */
function crossing(network: Network, forwarding: ForwardingSegment, edge: Edge, from: number): readonly Leg[] {
  const { tree } = forwarding;
  const child = tree.parentEdge[edge.a] === edge ? edge.a : tree.parentEdge[edge.b] === edge ? edge.b : undefined;
  if (child === undefined) return [];
  const below = nodesBelow(tree, child);
  const near = below[from];
  const isNear = (node: number): boolean => below[node] === near && tree.component[node] === tree.component[child];
  const isFar = (node: number): boolean => below[node] !== near && tree.component[node] === tree.component[child];
  const marks = marksFor(forwarding);
  return network.flows
    .filter((flow) => flow.forwarding === forwarding && isNear(flow.from) && crosses(flow, edge, isFar, marks))
    .map(({ leg }) => leg);
}

function crosses(flow: Flow, edge: Edge, isFar: (node: number) => boolean, marks: Marks): boolean {
  const { byHand } = flow.plane;
  if (byHand !== undefined) return spreadOf(flow, byHand).steps.has(edge.id);
  if (flow.flood !== undefined) return true;
  if (
    !isUnasked(flow) &&
    [
      ...flow.receivers,
      ...(flow.to === undefined ? [] : [flow.to]),
      ...flow.plane.sinks,
      ...onwardRouters(flow).map(({ router }) => router),
    ].some(({ node }) => isFar(node))
  )
    return true;
  if (!flow.partly) return false;
  let found = false;
  walkFlood(flow, marks, {
    node: () => undefined,
    step: (step) => {
      found ||= step.edge === edge;
    },
  });
  return found;
}

/** How members of one aggregate between two switches differ. */
export interface UnlikeMembers {
  readonly links: NonEmpty<Link>;
  readonly by: 'rate' | 'vlans';
}

/** Aggregates whose members do not carry alike; only what is stated on both counts. */
export function unlikeMembers(plan: Plan, vlansOver: (link: Link) => readonly object[]): readonly UnlikeMembers[] {
  return bundlesOf(plan).flatMap((links): UnlikeMembers[] => {
    if (links.length < 2) return [];
    const rates = new Set(links.map(linkRate).filter((rate) => rate !== undefined));
    const sets = links.map((link) => new Set(vlansOver(link)));
    const [first, ...rest] = sets;
    const same = rest.every(
      (one) => first !== undefined && one.size === first.size && [...one].every((v) => first.has(v)),
    );
    return [
      ...(rates.size > 1 ? [{ links, by: 'rate' as const }] : []),
      ...(same ? [] : [{ links, by: 'vlans' as const }]),
    ];
  });
}
