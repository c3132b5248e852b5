/** What is wrong with loops of links, and with the spanning trees that are to break them. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byCodeUnit, byLabel } from '../../collections/order.js';
import type { Link, Switch, Vlan } from '../../plan/types.js';
import { linkEnds } from '../vlans/index.js';
import { buildCutTree } from './cut-tree.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { isAssumedTree, type LoopedPart, runsTree } from './loops.js';
import { type Edge, linkRate } from './segment.js';

/** A loop that no tree breaks: broadcasts and floods go round in it without end. */
export interface OpenLoop {
  readonly links: NonEmpty<Link>;
  /** Its switches that are stated to run no tree, by name. */
  readonly silent: NonEmpty<Switch>;
  readonly vlans: readonly Vlan[];
  /**
   * True where none of its switches runs a tree, or one that runs none is stated to drop the frames of others' trees;
   * false where it is taken to.
   */
  readonly stated: boolean;
}

/** One for each set of switches without a tree that close a loop, whatever VLANs go round in it. */
export function openLoops({ forwardings }: Network): readonly OpenLoop[] {
  const rings = forwardings.flatMap((forwarding) =>
    openRings(forwarding).map((links) => ({ links, vlans: forwarding.segment.domain.vlans })),
  );
  const loops = rings.flatMap(({ links, vlans }) => {
    const switches = switchesOf(links);
    const silent = byLabel(
      switches.filter((one) => !runsTree(one)),
      ({ name }) => name,
    );
    return isNonEmpty(silent) ? [{ links, vlans, silent, stated: isStated(switches) }] : [];
  });
  const causes = groupBy(loops, ({ silent }) => silent.map(({ name, rig }) => `${name} ${rig.name}`).join(', '));
  return [...causes.values()].map((own) => {
    const [{ links, silent }] = own;
    const all = byLabel([...new Set(own.flatMap((one) => one.links))], linkEnds);
    return {
      links: isNonEmpty(all) ? all : links,
      silent,
      vlans: byLabel([...new Set(own.flatMap((one) => one.vlans))], ({ name }) => name),
      stated: own.some((one) => one.stated),
    };
  });
}

/** Segments with a loop that surely no tree breaks: what is sent there drowns in what goes round. */
export function stormGrounds({ forwardings, parts }: Network): ReadonlySet<ForwardingSegment> {
  if (parts.length === 0) return new Set();
  return new Set(forwardings.filter((forwarding) => openRings(forwarding).some((ring) => isStated(switchesOf(ring)))));
}

function switchesOf(links: readonly Link[]): readonly Switch[] {
  return [...new Set(links.flatMap(({ ends }) => ends.flatMap((end) => end.switch ?? [])))];
}

/** Whether the plan says that no tree breaks a loop of these switches. */
function isStated(switches: readonly Switch[]): boolean {
  const silent = switches.filter((one) => !runsTree(one));
  return silent.length === switches.length || silent.some(({ spanningTree: own }) => own?.bpdus === 'drop');
}

function openRings({ segment, parts, forwards }: ForwardingSegment): readonly NonEmpty<Link>[] {
  if (!parts.some(({ switches }) => !switches.every(runsTree))) return [];
  const links = new Set(segment.edges.flatMap((edge) => edge.links));
  const edges: Edge[] = [];
  const edgesAt = segment.nodes.map((): Edge[] => []);
  for (const bundle of parts.flatMap(({ bundles }) => bundles)) {
    const own = bundle.filter((link) => links.has(link) && forwards(link));
    const [a, b] = bundle[0].ends.map((end) => (end.switch === undefined ? undefined : segment.nodeOf.get(end.switch)));
    if (own.length === 0 || a === undefined || b === undefined) continue;
    const edge: Edge = { id: edges.length, a, b, links: own, rateBps: undefined };
    edges.push(edge);
    edgesAt[a]?.push(edge);
    edgesAt[b]?.push(edge);
  }
  const rings: NonEmpty<Link>[] = [];
  buildCutTree({ nodes: segment.nodes, edgesAt }, (block) => {
    const ring = block.flatMap((edge) => edge.links);
    if (block.length > 1 && isNonEmpty(ring)) rings.push(ring);
  });
  return rings;
}

/** Links of one rate between two switches that are no aggregate, though one VLAN is on several of them. */
export interface SideBySide {
  readonly switches: readonly [Switch, Switch];
  /** Those that forward now, or would first. */
  readonly open: readonly Link[];
  /** Those that carry nothing. */
  readonly idle: NonEmpty<Link>;
  /** False where the plan does not state all that settles which ones. */
  readonly known: boolean;
}

export function sideBySide({ parts, forwardings }: Network): readonly SideBySide[] {
  if (parts.length === 0) return [];
  const shared = new Set(
    forwardings.flatMap(({ segment }) => segment.edges.flatMap(({ links }) => (links.length > 1 ? links : []))),
  );
  const used = new Set(
    forwardings.flatMap(({ segment, forwards }) => segment.edges.flatMap(({ links }) => links.filter(forwards))),
  );
  return parts.flatMap(({ bundles, trees }) =>
    [...groupBy(bundles, pairKey).values()].flatMap((pair): SideBySide[] => {
      const [a, b] = pair[0][0].ends.map((end) => end.switch);
      if (pair.length < 2 || a === undefined || b === undefined || ![a, b].every(runsTree)) return [];
      const links = byLabel(
        pair.flat().filter((link) => shared.has(link)),
        linkEnds,
      );
      const idle = links.filter((link) => !used.has(link));
      const open = links.filter((link) => used.has(link));
      return links.length > 1 && isNonEmpty(idle)
        ? [
            {
              switches: [a, b],
              open,
              idle,
              known: !forwardings.some((one) => one.parts.some((part) => part.trees === trees && isAssumedTree(part))),
            },
          ]
        : [];
    }),
  );
}

/** Links of one rate alone make an aggregate (IEEE 802.1AX): a slower one beside a fast one is a standby. */
function pairKey(links: NonEmpty<Link>): string {
  const ends = links[0].ends.map((end) => `${end.switch?.rig.name ?? ''} ${end.switch?.name ?? ''}`);
  return `${ends.sort(byCodeUnit).join(', ')} ${linkRate(links[0]) ?? ''}`;
}

/** A loop whose switches are stated to count path costs by different methods. */
export interface MixedMethods {
  readonly long: NonEmpty<Switch>;
  readonly short: NonEmpty<Switch>;
}

export function mixedMethods({ parts }: Network): readonly MixedMethods[] {
  return parts.flatMap(({ switches }) => {
    const by = (method: 'long' | 'short'): readonly Switch[] =>
      switches.filter(({ spanningTree: own }) => own?.method === method && own.mode !== 'none');
    const [long, short] = [by('long'), by('short')];
    return isNonEmpty(long) && isNonEmpty(short) ? [{ long, short }] : [];
  });
}

/** A root that nobody chose: equal priorities that nobody states, and the lowest address. */
export interface RootByAddress {
  readonly root: Switch;
  /** The switch whose links hold most, and more than the root's. */
  readonly better: Switch;
  readonly rateBps: number;
  readonly betterBps: number;
  readonly switches: readonly Switch[];
}

/** One a part of the network, in whichever of its trees nobody chose it. */
export function rootsByAddress({ parts, forwardings }: Network): readonly RootByAddress[] {
  if (parts.length === 0) return [];
  const used = new Set(forwardings.flatMap((one) => one.parts));
  return parts.flatMap(({ trees }) =>
    trees
      .filter((tree) => used.has(tree))
      .flatMap(rootByAddress)
      .slice(0, 1),
  );
}

function rootByAddress(part: LoopedPart): readonly RootByAddress[] {
  const { switches, layout } = part;
  const running = switches.filter(runsTree);
  if (running.some(({ spanningTree: own }) => own?.mac === undefined)) return [];
  if (running.some((one) => part.priorityAt(one) !== undefined)) return [];
  const roots = new Set(running.flatMap((one) => layout.rootOf(one) ?? []));
  const [root, ...others] = roots;
  if (root === undefined || others.length > 0) return [];
  const rates = linkRates(part);
  const best = running.reduce((most, one) => ((rates.get(one) ?? 0) > (rates.get(most) ?? 0) ? one : most), root);
  return best === root
    ? []
    : [{ root, better: best, rateBps: rates.get(root) ?? 0, betterBps: rates.get(best) ?? 0, switches: running }];
}

/** What all links at each switch hold together. */
function linkRates({ bundles }: LoopedPart): ReadonlyMap<Switch, number> {
  const found = new Map<Switch, number>();
  for (const link of bundles.flat())
    for (const { switch: one } of link.ends)
      if (one !== undefined) found.set(one, (found.get(one) ?? 0) + (linkRate(link) ?? 0));
  return found;
}
