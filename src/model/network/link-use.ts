/** Each link, or all members of an aggregate together, against what it carries. */
import type { Link, LinkEnd, Plan, Switch } from '../../plan/types.js';
import { bundlesOf } from './bundles.js';
import { chosenOf, type Chosen } from './chosen-load.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import type { Load } from './load.js';
import { isAssumedTree, type LoopedPart } from './loops.js';
import { linkRate, type Edge } from './segment.js';
import { append } from '../../collections/group-by.js';

/** A link or an aggregate of links (IEEE 802.1AX) with its busier direction. */
export interface LinkUse {
  /** One link, or every member of the aggregate. */
  readonly links: readonly [Link, ...Link[]];
  /** Of all members together. */
  readonly rateBps: number;
  /** What the busier direction carries, on all members together. */
  readonly loadBps: number;
  /** Ends of the busier direction: indices into the ends of the first link. */
  readonly from: 0 | 1;
  /** Where it stands in the segments it carries, with the node its busier direction leaves. */
  readonly spans: readonly Span[];
  /** The part of `loadBps` that inputs choose, in the worst case; undefined where they choose nothing. */
  readonly chosen: Chosen | undefined;
  /** The loops it is part of: the way past it hangs on which of their links the spanning tree blocks. */
  readonly parts: readonly LoopedPart[];
}

/** The ends of the busier direction, the sending one first. */
export function busierWay({ links: [first], from }: LinkUse): readonly [from: LinkEnd, to: LinkEnd] {
  const [a, b] = first.ends;
  return from === 0 ? [a, b] : [b, a];
}

/** The switch taken for the root of the spanning tree, where the way past a link hangs on it and the plan does not state all of it. */
export function assumedRoot({ links: [link], parts }: LinkUse): Switch | undefined {
  const part = parts.find(isAssumedTree);
  const [end] = link.ends;
  return part === undefined || end.switch === undefined ? undefined : part.layout.rootOf(end.switch);
}

/** Whether the way past a link hangs on a spanning tree that the plan does not state. */
export function hangsOnAssumedTree({ parts }: LinkUse): boolean {
  return parts.some(isAssumedTree);
}

/** One direction of an edge of a segment. */
export interface Span {
  readonly forwarding: ForwardingSegment;
  readonly edge: Edge;
  readonly from: number;
}

/** Every link with a rate, aggregates as one, in plan order. */
export function linkUses(plan: Plan, network: Network, load: Load): readonly LinkUse[] {
  const spans = spansOf(network);
  return bundlesOf(plan).flatMap((links) => {
    const [first] = links;
    const rateBps = sum(links, linkRate);
    if (rateBps === undefined) return [];
    const turned = (link: Link): boolean => link.ends[0].switch !== first.ends[0].switch;
    const there = sum(links, (link) => loadOf(link, load, turned(link))) ?? 0;
    const back = sum(links, (link) => loadOf(link, load, !turned(link))) ?? 0;
    const from = back > there ? 1 : 0;
    const chosen = links.map(
      (link) => load.chosen?.links.get(link)?.[turned(link) === (from === 0) ? 'back' : 'there'],
    );
    const own = [...new Map(links.flatMap((link) => spans.get(link) ?? []).map((span) => [span.edge, span])).values()];
    return [
      {
        links,
        rateBps,
        loadBps: Math.max(there, back),
        chosen: chosenOf(chosen),
        from,
        spans: own.map(({ forwarding, edge }) => ({ forwarding, edge, from: nodeOf(forwarding, first, from) })),
        parts: [...new Set(own.flatMap(({ forwarding }) => forwarding.parts))],
      },
    ];
  });
}

/** Edges of segments by the links they are made of. */
function spansOf(
  network: Network,
): ReadonlyMap<Link, readonly { readonly forwarding: ForwardingSegment; readonly edge: Edge }[]> {
  const found = new Map<Link, { readonly forwarding: ForwardingSegment; readonly edge: Edge }[]>();
  for (const forwarding of network.forwardings) {
    for (const edge of forwarding.segment.edges) {
      for (const link of edge.links) {
        append(found, link, { forwarding, edge });
      }
    }
  }
  return found;
}

function loadOf(link: Link, load: Load, back: boolean): number {
  const both = load.links.get(link);
  return both === undefined ? 0 : back ? both.back : both.there;
}

function nodeOf(forwarding: ForwardingSegment, link: Link, end: 0 | 1): number {
  const one = link.ends[end].switch;
  return one === undefined ? -1 : (forwarding.segment.nodeOf.get(one) ?? -1);
}

/** Undefined where any is. */
function sum(links: readonly Link[], of: (link: Link) => number | undefined): number | undefined {
  let total = 0;
  for (const link of links) {
    const value = of(link);
    if (value === undefined) return undefined;
    total += value;
  }
  return total;
}
