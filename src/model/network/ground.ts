/** Segments with the way frames take through them: what the spanning tree leaves of their links. */
import { buildByHand } from './by-hand.js';
import type { Interface, Leg, Link, Plan } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import type { Domain, Domains } from '../vlans/index.js';
import { protocolOf } from './conduct.js';
import { buildCutTree, type CutTree } from './cut-tree.js';
import { createLosses, type Losses } from './losses.js';
import { loopedParts, type LoopedPart } from './loops.js';
import { buildPlane, type Plane } from './plane.js';
import { areOneAggregate, buildSegments, type Edge, type Segment } from './segment.js';
import { blockedEdges, buildTree, type Tree } from './tree.js';

/** A segment with everything that is asked of it more than once. */
export interface ForwardingSegment {
  readonly segment: Segment;
  readonly igmp: Plane;
  readonly mld: Plane;
  readonly tree: Tree;
  /** Which nodes frames pass between, and what stands alone between them. */
  readonly cuts: CutTree;
  /** Whether links lead from one node to another, blocked ones among them. */
  readonly linked: CutTree['joined'];
  /** Where its links are part of loops: what decides which of them forward. */
  readonly parts: readonly LoopedPart[];
  /** False for a link that is kept blocked. */
  readonly forwards: (link: Link) => boolean;
  /**
   * Set where links of a loop do not all carry the segment: the tree does not ask for VLANs, so a failure may take what
   * links still join. Everywhere else structure alone tells, as a tree joins whatever its links do.
   */
  readonly losses: (Losses & { readonly grounds: Regrounded }) | undefined;
}

/** Where a leg stands; undefined where its VLAN or network does not say. */
export type ForwardingOf = (leg: {
  readonly vlan: Leg['vlan'];
  readonly network: Leg['network'];
  readonly interface: Interface | undefined;
}) => ForwardingSegment | undefined;

/** Who queries where, by the way that is left. */
export type Regrounded = (tree: Tree) => Pick<ForwardingSegment, 'igmp' | 'mld' | 'cuts'>;

/** What governs a group in a segment. */
export function planeOf(forwarding: ForwardingSegment, group: Address | undefined): Plane {
  return forwarding[protocolOf(group)];
}

/** Links of an edge that carry its streams: all members of an aggregate, or the one of several that forwards. */
export function carriersOf({ forwards }: ForwardingSegment, { links }: Edge): readonly Link[] {
  const open = links.filter(forwards);
  return areOneAggregate(open) ? open : open.slice(0, 1);
}

export interface Grounds {
  readonly forwardings: ReadonlyMap<Domain, ForwardingSegment>;
  /** Where links make loops. */
  readonly parts: readonly LoopedPart[];
}

export function buildGrounds(plan: Plan, domains: Domains): Grounds {
  const segments = buildSegments(plan, domains);
  const parts = loopedParts(plan, segments.values());
  const rings = ringsByLink(parts);
  const forwardings = new Map([...segments].map(([domain, segment]) => [domain, buildGround(segment, rings, domains)]));
  return { forwardings, parts };
}

/** A loop that a link is part of, with the part of the network it stands in. */
interface Ring {
  readonly part: LoopedPart;
  readonly links: readonly Link[];
}

function ringsByLink(parts: readonly LoopedPart[]): ReadonlyMap<Link, Ring> {
  const found = new Map<Link, Ring>();
  for (const part of parts) {
    for (const bundles of part.rings) {
      const ring: Ring = { part, links: bundles.flat() };
      for (const link of ring.links) found.set(link, ring);
    }
  }
  return found;
}

function buildGround(segment: Segment, ringOf: ReadonlyMap<Link, Ring>, domains: Domains): ForwardingSegment {
  const cuts = buildCutTree(segment);
  const byHand = buildByHand(segment);
  const igmp = buildPlane(segment, 'igmp', domains, cuts, byHand);
  const mld = buildPlane(segment, 'mld', domains, cuts, byHand);
  const roots = [...igmp.sinks, ...mld.sinks].map((sink) => sink.node);
  const links = ringOf.size === 0 ? [] : segment.edges.flatMap((edge) => edge.links);
  const rings = new Set(links.flatMap((link) => ringOf.get(link) ?? []));
  if (rings.size === 0) {
    const tree = buildTree(segment, roots);
    return { segment, igmp, mld, tree, cuts, linked: cuts.joined, parts: [], forwards: () => true, losses: undefined };
  }
  const partOf = new Map(
    [...rings].flatMap((ring) => ring.links.map((link) => [link, ring.part.treeOf(segment.domain.vlans)])),
  );
  const forwards = (link: Link): boolean => partOf.get(link)?.layout.forwards(link) ?? true;
  const tree = buildTree(segment, roots, { edges: blockedEdges(segment, forwards) });
  const looped = { segment, tree, linked: cuts.joined, parts: [...new Set(partOf.values())], forwards };
  const own = new Set(links);
  const carriesAll = [...rings].every((ring) => ring.links.every((link) => own.has(link)));
  if (carriesAll) return { ...looped, igmp, mld, cuts, losses: undefined };
  const grounds: Regrounded = ({ component }) => {
    const joined = (a: number, b: number): boolean => component[a] !== -1 && component[a] === component[b];
    const real = { ...cuts, joined, partOf: (node: number): number => component[node] ?? -1 };
    return {
      igmp: buildPlane(segment, 'igmp', domains, real, byHand),
      mld: buildPlane(segment, 'mld', domains, real, byHand),
      cuts: real,
    };
  };
  const losses = { ...createLosses(segment, looped.parts), grounds };
  const { component } = tree;
  // A part that links join is numbered by its first node.
  const torn = segment.nodes.some((_, node) => component[node] !== component[cuts.partOf(node)]);
  return torn ? { ...looped, ...grounds(tree), losses } : { ...looped, igmp, mld, cuts, losses };
}
