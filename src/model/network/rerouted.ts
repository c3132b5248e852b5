/** Links that the loss of another one overloads: members of an aggregate take over, or spanning tree or routers find another way. */
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Link, Plan, Rig } from '../../plan/types.js';
import { linkEnds, linkLabel } from '../vlans/index.js';
import type { Chosen } from './chosen-load.js';
import { type Flow, flowOn, type Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { linkUses, type LinkUse } from './link-use.js';
import { buildLoad, type LinkLoad, type Load, type RateOf } from './load.js';
import { routedReroutes } from './routed-reroutes.js';
import type { Unrated } from './unrated.js';
import { linkRate, type Edge, type Segment } from './segment.js';
import { isAssumedTree } from './loops.js';
import { forwardsWithout, goneOf, treeWithout } from './losses.js';
import { append } from '../../collections/group-by.js';

/** A link, or an aggregate, that carries more than its rate once another link is lost. */
export interface Rerouted {
  /** What it carries while nothing has failed. */
  readonly use: LinkUse;
  /** Failures that overload it, each link once, the worst first. */
  readonly after: NonEmpty<AfterLoss>;
}

/** What a link carries, and can, once another one is lost. */
export interface AfterLoss {
  readonly lost: Link;
  readonly loadBps: number;
  readonly rateBps: number;
  /** Streams of unknown rate may be among it. */
  readonly atLeast: boolean;
  /** True where what takes over hangs on a spanning tree that the plan does not state. */
  readonly assumed: boolean;
  /** What inputs choose of it, in the worst case; undefined where they choose nothing. */
  readonly chosen: Chosen | undefined;
}

/** Each try carries every stream of some segments anew: so many streams at most are carried, the fullest links first. */
const MOST_CARRIED = 2_000_000;
/** However many streams there are, so many links are tried. */
const LEAST_TRIES = 8;

/** Links that carry more than their rig's percentage of their rate after the loss of one link, but not before. */
export function rerouted(
  plan: Plan,
  network: Network,
  load: Load,
  rateOf: RateOf,
  unrated: Unrated,
  percentOf: (rig: Rig) => number,
): readonly Rerouted[] {
  const uses = linkUses(plan, network, load);
  const found = new Map<LinkUse, [AfterLoss, ...AfterLoss[]]>();
  const add = (use: LinkUse, lost: Link, { loadBps, chosen }: LinkUse, rateBps: number): void => {
    const percent = percentOf(use.links[0].rig);
    if (loadBps * 100 <= rateBps * percent || use.loadBps * 100 > use.rateBps * percent) return;
    // A turned tree may lead streams here that came by neither of the two.
    const turns = use.parts.length > 0 && load.unrated > 0;
    const atLeast = turns || [lost, ...use.links].some(unrated.onLink);
    append(found, use, { lost, loadBps, rateBps, chosen, atLeast, assumed: isAssumedAfter(use, lost) });
  };
  for (const use of uses) {
    const largest = use.links.reduce((most, link) => ((linkRate(link) ?? 0) > (linkRate(most) ?? 0) ? link : most));
    if (use.links.length > 1) add(use, largest, use, use.rateBps - (linkRate(largest) ?? 0));
  }
  const loadWithout = createLoadWithout(plan, network, load, rateOf);
  for (const lost of tries(uses, network, rateOf, percentOf)) {
    const [link] = lost.links;
    const forwardings = touchedBy(lost, network);
    const then = new Map(linkUses(plan, network, loadWithout(link, forwardings)).map((use) => [use.links[0], use]));
    for (const use of uses) {
      const after = then.get(use.links[0]);
      if (use !== lost && after !== undefined) add(use, link, after, after.rateBps);
    }
  }
  const most = Math.max(LEAST_TRIES, Math.floor(MOST_CARRIED / Math.max(1, network.flows.length)));
  for (const { lost, then } of network.routing.inRow ? routedReroutes(plan, network, uses, rateOf, most) : []) {
    const after = new Map(then.map((use) => [use.links[0], use]));
    for (const use of uses) {
      const now = after.get(use.links[0]);
      if (now !== undefined && use.links[0] !== lost) add(use, lost, now, now.rateBps);
    }
  }
  return [...found].map(([use, after]) => ({
    use,
    after: after.sort((a, b) => b.loadBps - a.loadBps || (linkLabel(a.lost) < linkLabel(b.lost) ? -1 : 1)),
  }));
}

/**
 * Links that another one takes over from, where any link that its loss may lead streams over has less room than all streams
 * together need. A link without load counts too: its loss may turn the spanning tree, and with it the streams of others.
 */
function tries(
  uses: readonly LinkUse[],
  network: Network,
  rateOf: RateOf,
  percentOf: (rig: Rig) => number,
): readonly LinkUse[] {
  const standby = uses.filter(
    ({ links: [link, ...others], parts }) =>
      others.length === 0 &&
      parts.some(({ trees, inRing }) => inRing(link) && trees.some(({ layout }) => layout.forwards(link))),
  );
  if (standby.length === 0) return [];
  const total = new Map<ForwardingSegment, number>();
  for (const flow of network.flows)
    total.set(flow.forwarding, (total.get(flow.forwarding) ?? 0) + (rateOf(flow)?.onLink ?? 0));
  const tight = new Set<ForwardingSegment>();
  for (const { links, loadBps, rateBps, spans } of uses) {
    const percent = percentOf(links[0].rig);
    // One turned tree may lead the streams of all its segments here at once.
    const own = new Set(spans.map(({ forwarding }) => forwarding));
    const all = [...own].reduce((sum, forwarding) => sum + (total.get(forwarding) ?? 0), 0);
    if ((rateBps * percent) / 100 - loadBps < all) for (const forwarding of own) tight.add(forwarding);
  }
  return standby
    .filter((use) => [...touchedBy(use, network)].some((forwarding) => tight.has(forwarding)))
    .sort((a, b) => b.loadBps - a.loadBps || (linkEnds(a.links[0]) < linkEnds(b.links[0]) ? -1 : 1))
    .slice(0, Math.max(LEAST_TRIES, Math.floor(MOST_CARRIED / Math.max(1, network.flows.length))));
}

function isAssumedAfter({ parts }: LinkUse, lost: Link): boolean {
  return parts.some(
    (part) => isAssumedTree(part) || part.trees.some((tree) => tree.without(goneOf(lost)).doubts.length > 0),
  );
}

/** Where the loss of a link may lead streams elsewhere: the trees it turns are blind to VLANs. */
function touchedBy({ spans, parts }: LinkUse, network: Network): ReadonlySet<ForwardingSegment> {
  const own = new Set(spans.map(({ forwarding }) => forwarding));
  return new Set(
    network.forwardings.filter(
      (one) => own.has(one) || one.parts.some(({ trees }) => parts.some((part) => part.trees === trees)),
    ),
  );
}

/** What links carry once one of them is lost. */
function createLoadWithout(
  plan: Plan,
  network: Network,
  load: Load,
  rateOf: RateOf,
): (lost: Link, touched: ReadonlySet<ForwardingSegment>) => Load {
  const carried = (parts: readonly (readonly [ForwardingSegment, ForwardingSegment])[]): Load =>
    buildLoad(plan, only(network, new Map(parts)), rateOf);
  // Worst choices of several segments do not add up: where inputs switch, all streams are carried anew.
  if (network.unchosen !== undefined)
    return (lost, touched) =>
      carried(network.forwardings.map((one) => [one, touched.has(one) ? groundWithout(one, lost) : one]));
  const before = new Map<string, Load>();
  return (lost, touched) => {
    const key = [...touched].map((forwarding) => network.forwardings.indexOf(forwarding)).join(' ');
    let part = before.get(key);
    if (part === undefined) before.set(key, (part = carried([...touched].map((one) => [one, one]))));
    const rest = carried([...touched].map((one) => [one, groundWithout(one, lost)]));
    return { ...load, links: exchanged(load.links, part.links, rest.links) };
  };
}

function exchanged(all: Load['links'], before: Load['links'], after: Load['links']): ReadonlyMap<Link, LinkLoad> {
  return new Map(
    [...all].map(([link, { there, back }]) => {
      const old = before.get(link) ?? NOTHING;
      const now = after.get(link) ?? NOTHING;
      return [link, { there: there - old.there + now.there, back: back - old.back + now.back }];
    }),
  );
}

const NOTHING: LinkLoad = { there: 0, back: 0 };

/** A part of the network, with some of its segments exchanged for others of the same shape. */
function only(network: Network, exchange: ReadonlyMap<ForwardingSegment, ForwardingSegment>): Network {
  const within = (flows: readonly Flow[]): readonly Flow[] =>
    flows.flatMap((flow): Flow[] => {
      const forwarding = exchange.get(flow.forwarding);
      return forwarding === undefined ? [] : [flowOn(flow, forwarding)];
    });
  const { unchosen } = network;
  return {
    ...network,
    forwardings: [...exchange.values()],
    flows: within(network.flows),
    unchosen: unchosen === undefined ? undefined : within(unchosen),
  };
}

function groundWithout(forwarding: ForwardingSegment, lost: Link): ForwardingSegment {
  const edges = forwarding.segment.edges.map((edge): Edge =>
    edge.links.includes(lost) ? { ...edge, links: edge.links.filter((link) => link !== lost) } : edge,
  );
  const edgesAt = forwarding.segment.edgesAt.map((own) => own.map((edge) => edges[edge.id] ?? edge));
  const segment: Segment = { ...forwarding.segment, edges, edgesAt };
  const gone = goneOf(lost);
  const { parts, losses, igmp, mld } = forwarding;
  const roots = [...igmp.sinks, ...mld.sinks].map((sink) => sink.node);
  const tree = treeWithout(segment, parts, gone, roots);
  const now = { ...forwarding, segment, forwards: forwardsWithout(parts, gone), tree };
  return losses === undefined ? now : { ...now, ...losses.grounds(tree) };
}
