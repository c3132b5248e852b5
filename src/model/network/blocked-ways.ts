/** VLANs that links join and the spanning tree parts: now, or once one link is lost (measured on Open vSwitch, RSTP). */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Link, Switch } from '../../plan/types.js';
import { type Domain, linkLabel } from '../vlans/index.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { goneOf } from './losses.js';
import type { Layout, LoopedPart, TreeDoubt } from './loops.js';
import { buildTree, type Tree } from './tree.js';

export interface BlockedWay {
  readonly domain: Domain;
  /** Links of which any loss parts it; empty where it is parted with all links in order. */
  readonly after: readonly Link[];
  /** Two switches with hosts that lose each other. */
  readonly between: readonly [Switch, Switch];
  /** Links that would join them and are blocked, with the switch whose port is, where that is known. */
  readonly blocked: NonEmpty<{ readonly link: Link; readonly at: Switch | undefined }>;
  readonly root: Switch;
  /** Links on the way the tree leaves that do not carry it. */
  readonly lacking: readonly Link[];
  readonly doubts: readonly TreeDoubt[];
}

/** One a VLAN. */
export function blockedWays({ forwardings }: Network): readonly BlockedWay[] {
  return forwardings.flatMap((forwarding) => blockedNow(forwarding) ?? blockedLater(forwarding) ?? []);
}

function blockedNow(forwarding: ForwardingSegment): BlockedWay | undefined {
  const { losses, tree, parts, linked } = forwarding;
  if (losses === undefined) return undefined;
  const between = parted(forwarding, tree, linked);
  if (between === undefined) return undefined;
  return wayOf(forwarding, { between, tree, after: [], layoutOf: (part) => part.layout }, parts);
}

function blockedLater(forwarding: ForwardingSegment): BlockedWay | undefined {
  const { losses, segment, parts } = forwarding;
  if (losses === undefined) return undefined;
  let found: BlockedWay | undefined;
  const after: Link[] = [];
  const lacking = new Set<Link>();
  const trials = losses.trials().flatMap(({ lost, component }) => ('ports' in lost ? [] : [{ lost, component }]));
  for (const { lost, component } of byLabel(trials, (one) => linkLabel(one.lost))) {
    const edges = segment.edges.filter(({ links }) => links.length === 1 && links[0] === lost);
    const left = buildTree(segment, [], { edges: new Set(edges) });
    const between = parted(
      forwarding,
      { component },
      (a, b) => left.component[a] !== -1 && left.component[a] === left.component[b],
    );
    if (between === undefined) continue;
    const layoutOf = (part: LoopedPart): Layout => part.without(goneOf(lost));
    const way = wayOf(forwarding, { between, tree: { component }, after: [lost], layoutOf }, parts);
    if (way === undefined) continue;
    found ??= way;
    after.push(lost);
    for (const link of way.lacking) lacking.add(link);
  }
  return found === undefined ? undefined : { ...found, after, lacking: [...lacking] };
}

/** Two nodes with hosts that links join and frames do not pass between; the first by name. */
function parted(
  { segment }: ForwardingSegment,
  { component }: Pick<Tree, 'component'>,
  linked: (a: number, b: number) => boolean,
): readonly [Switch, Switch] | undefined {
  const peopled = byLabel(
    segment.nodes.flatMap((one, node) => ((segment.hostsAt[node]?.length ?? 0) === 0 ? [] : [{ one, node }])),
    ({ one }) => one.name,
  );
  // One of each part: a part that is whole costs one look.
  const first = new Map<number, (typeof peopled)[number]>();
  for (const own of peopled) kept(first, component[own.node] ?? -1, () => own);
  const all = [...first.values()];
  for (const [index, a] of all.entries())
    for (const b of all.slice(index + 1)) if (linked(a.node, b.node)) return [a.one, b.one];
  return undefined;
}

interface Parting {
  readonly between: readonly [Switch, Switch];
  readonly tree: Pick<Tree, 'component'>;
  readonly after: readonly Link[];
  readonly layoutOf: (part: LoopedPart) => Layout;
}

function wayOf(
  { segment }: ForwardingSegment,
  { between, tree: { component }, after, layoutOf }: Parting,
  parts: readonly LoopedPart[],
): BlockedWay | undefined {
  const part = parts.find(({ switches }) => between.every((one) => switches.includes(one)));
  const root = part === undefined ? undefined : layoutOf(part).rootOf(between[0]);
  if (part === undefined || root === undefined) return undefined;
  const layout = layoutOf(part);
  const own = new Set(segment.edges.flatMap(({ links }) => links));
  const blocked = segment.edges
    .filter(({ a, b }) => component[a] !== component[b])
    .flatMap(({ links }) => links.filter((link) => !layout.forwards(link) && !after.includes(link)))
    .map((link) => ({ link, at: layout.blockedAt(link)?.switch }));
  const sorted = byLabel(blocked, ({ link }) => linkLabel(link));
  if (!isNonEmpty(sorted)) return undefined;
  return {
    domain: segment.domain,
    after,
    between,
    blocked: sorted,
    root,
    lacking: treeWay(part, layout, between).filter((link) => !own.has(link)),
    doubts: layout.doubts,
  };
}

function otherEnd({ ends: [a, b] }: Link, at: Switch): Switch | undefined {
  return a.switch === at ? b.switch : b.switch === at ? a.switch : undefined;
}

/** The links over which the tree leads from one switch to another. */
function treeWay(
  { bundles }: LoopedPart,
  { forwards }: Layout,
  [from, to]: readonly [Switch, Switch],
): readonly Link[] {
  const came = new Map<Switch, { readonly back: Switch; readonly links: readonly Link[] } | undefined>([
    [from, undefined],
  ]);
  const queue = [from];
  for (const at of queue) {
    // Links of one bundle may end at two switches that act as one.
    const open = bundles.flat().filter(forwards);
    for (const [next, links] of groupBy(open, (link) => otherEnd(link, at))) {
      if (came.has(next)) continue;
      came.set(next, { back: at, links });
      queue.push(next);
    }
  }
  const way: Link[] = [];
  for (let step = came.get(to); step !== undefined; step = came.get(step.back)) way.unshift(...step.links);
  return way;
}
