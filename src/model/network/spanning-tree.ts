/**
 * The spanning tree of bridges and the links between them, as RSTP and STP settle it once nothing changes any more
 * (IEEE 802.1D-2004 §17.5, §17.6; clause numbers from memory, every step measured on Open vSwitch).
 *
 * The root is the bridge with the lowest identifier. Each other bridge sends and takes through one root port, the one with
 * the lowest of, in order: path cost to the root, identifier of the bridge it hears, port identifier at that bridge, own
 * port identifier. On each LAN one port is designated, of the bridge nearest the root; all other ports discard: alternate
 * where another bridge is designated, backup where it is the port's own. The path cost counts the receiving port at each
 * bridge on the way from the root; what the root's end of a link is set to does nothing.
 *
 * A box that runs no tree is no bridge here. Where it passes BPDUs, all its links are one LAN to those who run one; where
 * it drops them, each link ends there unheard, and a loop through it is seen by nobody.
 */
import { pop, push, type Heap } from '../../collections/heap.js';
import { UnionFind } from '../../collections/union-find.js';

export interface TreeBridge {
  /** False where it runs no tree. */
  readonly runs: boolean;
  /** Whether it passes BPDUs on while it runs none. */
  readonly passes: boolean;
  /** Lower wins: steps of 4096 (§17.14), 32768 by default. */
  readonly priority: number;
  /** The address in its identifier; undefined where nobody says. */
  readonly mac: number | undefined;
  /** Settles ties between bridges of which an address is not known: lower wins; below 0, over known addresses as well. */
  readonly stand: number;
}

export interface TreePort {
  readonly bridge: number;
  /** Steps of 16, 128 by default (§17.14); counts before the number. */
  readonly priority: number;
  readonly number: number;
  readonly cost: number;
}

/** One cable, or an aggregate, which is one port at each end (IEEE 802.1AX). */
export interface TreeLink {
  readonly ends: readonly [TreePort, TreePort];
}

/** `none`: an end at a box that runs no tree, which always forwards. */
export type PortRole = 'root' | 'designated' | 'alternate' | 'backup' | 'none';

export interface SpanningTree {
  /** Root of each bridge; -1 for one that runs no tree. */
  readonly root: Int32Array;
  /** Cost from each bridge to its root. */
  readonly pathCost: Float64Array;
  /** By link and end. Alternate and backup ports discard, all others forward (§17.10). */
  readonly roles: readonly (readonly [PortRole, PortRole])[];
  /** By link: 1 where both its ends forward. */
  readonly forwards: Uint8Array;
  /** True where a root or a way was settled by an address nobody knows. */
  readonly guessed: boolean;
}

/** IEEE 802.1D-2004 table 17-3: 20 Tbit/s over the rate, from 1 to 200 000 000. */
const COST_TIMES_RATE = 20e12;
export const MOST_COST = 200_000_000;

/** Costs of 16 bits (IEEE 802.1D-1998 table 8-5: from memory), the rates they begin at in bit/s. Faster ones count 1. */
const SHORT_COSTS = [
  [40e9, 1],
  [10e9, 2],
  [1e9, 4],
  [100e6, 19],
  [10e6, 100],
] as const;

/** What a port of so many bit/s costs. */
export function pathCost(rateBps: number, method: 'long' | 'short'): number {
  if (method === 'long') return Math.min(MOST_COST, Math.max(1, Math.round(COST_TIMES_RATE / rateBps)));
  return SHORT_COSTS.find(([from]) => rateBps >= from)?.[1] ?? 250;
}

/** `without` leaves links out, and with a bridge all its links. */
export function spanningTree(
  bridges: readonly TreeBridge[],
  links: readonly TreeLink[],
  without: { readonly bridges?: ReadonlySet<number>; readonly links?: ReadonlySet<number> } = {},
): SpanningTree {
  const rank = rankOf(bridges);
  const lans = lansOf(bridges, links, without);
  const { root, cost, rootGuessed } = distances(bridges, rank, lans);
  let guessed = rootGuessed;
  const unsure = (a: number, b: number): boolean => a !== b && isGuess(bridges[a], bridges[b]);

  for (const lan of lans.all) {
    for (const end of lan.ends) {
      const best = lan.designated;
      if (best === undefined || isDesignatedBefore(end, best, cost, rank)) lan.designated = end;
    }
    const { designated } = lan;
    // Between two bridges it is the same link that is blocked, whichever end does it.
    if (designated !== undefined && lan.ends.length > 2)
      guessed ||= lan.ends.some(
        ({ bridge }) => cost[bridge] === cost[designated.bridge] && unsure(bridge, designated.bridge),
      );
  }
  const rootEnd = new Array<LanEnd | undefined>(bridges.length).fill(undefined);
  for (const [bridge, ends] of lans.at.entries()) {
    const offers = ends.flatMap((end) => {
      const designated = end.lan.designated;
      return designated === undefined || designated.bridge === bridge
        ? []
        : [{ end, designated, cost: (cost[designated.bridge] ?? 0) + end.port.cost }];
    });
    const [first, ...rest] = offers;
    if (first === undefined || root[bridge] === bridge) continue;
    let best = first;
    for (const offer of rest) {
      const order =
        offer.cost - best.cost ||
        (rank[offer.designated.bridge] ?? 0) - (rank[best.designated.bridge] ?? 0) ||
        comparePorts(offer.designated.port, best.designated.port) ||
        comparePorts(offer.end.port, best.end.port);
      if (order < 0) best = offer;
    }
    guessed ||= offers.some(
      (offer) => offer.cost === best.cost && unsure(offer.designated.bridge, best.designated.bridge),
    );
    rootEnd[bridge] = best.end;
  }

  const roles = links.map((): [PortRole, PortRole] => ['none', 'none']);
  for (const lan of lans.all) {
    for (const end of lan.ends) {
      const own = roles[end.link];
      if (own === undefined) continue;
      own[end.side] =
        lan.designated === end
          ? 'designated'
          : rootEnd[end.bridge] === end
            ? 'root'
            : lan.designated?.bridge === end.bridge
              ? 'backup'
              : 'alternate';
    }
  }
  const forwards = Uint8Array.from(links, (link, index) =>
    isLeftOut(link, index, without) || roles[index]?.some((role) => role === 'alternate' || role === 'backup') === true
      ? 0
      : 1,
  );
  return { root, pathCost: cost, roles, forwards, guessed };
}

interface LanEnd {
  readonly link: number;
  readonly side: 0 | 1;
  readonly bridge: number;
  readonly port: TreePort;
  readonly lan: Lan;
}

/** What hears each other's BPDUs: a link, or all links of boxes that pass them on. */
interface Lan {
  readonly ends: LanEnd[];
  designated: LanEnd | undefined;
  reached: boolean;
}

interface Lans {
  readonly all: readonly Lan[];
  /** Ends at each bridge. */
  readonly at: readonly (readonly LanEnd[])[];
}

function lansOf(
  bridges: readonly TreeBridge[],
  links: readonly TreeLink[],
  without: Parameters<typeof spanningTree>[2] & object,
): Lans {
  const at = bridges.map((): LanEnd[] => []);
  const all: Lan[] = [];
  const joined = new UnionFind<number>();
  const firstAt = new Map<number, number>();
  const isHub = (bridge: number): boolean => bridges[bridge]?.runs === false && bridges[bridge].passes;
  const kept = links.flatMap((link, index) => (isLeftOut(link, index, without) ? [] : [{ link, index }]));
  for (const { link, index } of kept) {
    for (const { bridge } of link.ends) {
      if (!isHub(bridge)) continue;
      const first = firstAt.get(bridge);
      if (first === undefined) firstAt.set(bridge, index);
      else joined.union(first, index);
    }
  }
  const ofHub = new Map<number, Lan>();
  for (const { link, index } of kept) {
    const key = firstAt.size === 0 ? index : joined.find(index);
    const shared = ofHub.get(key);
    const lan: Lan = shared ?? { ends: [], designated: undefined, reached: false };
    if (shared === undefined) {
      all.push(lan);
      if (link.ends.some(({ bridge }) => isHub(bridge))) ofHub.set(key, lan);
    }
    for (const side of [0, 1] as const) {
      const port = link.ends[side];
      if (bridges[port.bridge]?.runs !== true) continue;
      const end: LanEnd = { link: index, side, bridge: port.bridge, port, lan };
      lan.ends.push(end);
      at[port.bridge]?.push(end);
    }
  }
  return { all, at };
}

function isLeftOut(link: TreeLink, index: number, without: Parameters<typeof spanningTree>[2] & object): boolean {
  return (
    without.links?.has(index) === true ||
    (without.bridges !== undefined && link.ends.some(({ bridge }) => without.bridges?.has(bridge)))
  );
}

/** Cheapest first from the best bridge of each part (Dijkstra, "A note on two problems", 1959). */
function distances(
  bridges: readonly TreeBridge[],
  rank: Int32Array,
  lans: Lans,
): { readonly root: Int32Array; readonly cost: Float64Array; readonly rootGuessed: boolean } {
  const root = new Int32Array(bridges.length).fill(-1);
  const cost = new Float64Array(bridges.length).fill(Infinity);
  let rootGuessed = false;
  const byRank = [...bridges.keys()].sort((a, b) => (rank[a] ?? 0) - (rank[b] ?? 0));
  for (const start of byRank) {
    const own = bridges[start];
    if (own?.runs !== true || root[start] !== -1) continue;
    const heap: Heap<number> = { keys: [], values: [] };
    cost[start] = 0;
    push(heap, 0, start);
    for (let at = pop(heap); at !== undefined; at = pop(heap)) {
      if (root[at] !== -1) continue;
      root[at] = start;
      const here = bridges[at];
      rootGuessed ||= at !== start && isGuess(own, here);
      for (const { lan } of lans.at[at] ?? []) {
        if (lan.reached) continue;
        lan.reached = true;
        for (const { bridge, port } of lan.ends) {
          const way = (cost[at] ?? 0) + port.cost;
          if (root[bridge] !== -1 || way >= (cost[bridge] ?? Infinity)) continue;
          cost[bridge] = way;
          push(heap, way, bridge);
        }
      }
    }
  }
  return { root, cost, rootGuessed };
}

/** Whether which identifier is lower hangs on an address nobody knows. */
function isGuess(a: TreeBridge | undefined, b: TreeBridge | undefined): boolean {
  return a?.priority === b?.priority && (a?.mac === undefined || b?.mac === undefined);
}

/** Places of the bridges in the order of their identifiers. */
function rankOf(bridges: readonly TreeBridge[]): Int32Array {
  const last = Number.MAX_SAFE_INTEGER;
  const order = [...bridges.keys()].sort((x, y) => {
    const a = bridges[x];
    const b = bridges[y];
    if (a === undefined || b === undefined) return 0;
    return (
      a.priority - b.priority ||
      Math.min(a.stand, 0) - Math.min(b.stand, 0) ||
      (a.mac ?? last) - (b.mac ?? last) ||
      a.stand - b.stand ||
      x - y
    );
  });
  const rank = new Int32Array(bridges.length);
  for (const [place, bridge] of order.entries()) rank[bridge] = place;
  return rank;
}

function isDesignatedBefore(a: LanEnd, b: LanEnd, cost: Float64Array, rank: Int32Array): boolean {
  const nearer = (cost[a.bridge] ?? 0) - (cost[b.bridge] ?? 0) || (rank[a.bridge] ?? 0) - (rank[b.bridge] ?? 0);
  return nearer < 0 || (nearer === 0 && comparePorts(a.port, b.port) < 0);
}

function comparePorts(a: TreePort, b: TreePort): number {
  return a.priority - b.priority || a.number - b.number;
}
