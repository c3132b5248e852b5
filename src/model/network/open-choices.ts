/**
 * Links that are too full, or not, by which of several equal paths routers ask for a stream by. RFC 7761 §4.1.5 wants one
 * way and does not say which: all streams may take one, or a sum over source and group spreads them.
 */
import { append, groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import { UnionFind } from '../../collections/union-find.js';
import type { Leg, Link, Plan, Rig } from '../../plan/types.js';
import { isCircuit, linkLabel } from '../vlans/index.js';
import { linkUses, type LinkUse } from './link-use.js';
import type { Carriage } from './full-links.js';
import type { RoutedReception } from './routed-receptions.js';
import type { Box } from './routing/feet.js';

/** A link that is too full where all streams that could go another way take it. */
export interface OpenLink {
  readonly use: LinkUse;
  /** What it carries with all of them, which is what is assumed. */
  readonly worstBps: number;
  /** What it carries where they spread as evenly as streams can. */
  readonly bestBps: number;
  /** Routers that have the choice. */
  readonly choosing: readonly Box[];
  readonly legs: readonly Leg[];
  /** True where the plan says that they spread, by a sum nobody can foresee. */
  readonly spread: boolean;
}

/** Whether the plan leaves open which of equal paths a router takes. */
export function choosesOpenly({ rig: { practice } }: Box): boolean {
  return practice.equalPaths === undefined || practice.equalPaths === 'spread';
}

/** Routed links of the crew's own above the percentage of their rig that would not be, but for streams with another way, in plan order. */
export function openLinks(
  plan: Plan,
  carriage: Carriage,
  receptions: readonly RoutedReception[],
  percentOf: (rig: Rig) => number,
): readonly OpenLink[] {
  const open = openlyChosen(receptions);
  if (open.size === 0 || carriage.headroom.linksHoldAll(percentOf)) return [];
  const { network, load, rates } = carriage; // costly to ask for
  return linkUses(plan, network, load).flatMap((use): OpenLink[] => {
    const { links, loadBps, rateBps } = use;
    const limit = (rateBps * percentOf(links[0].rig)) / 100;
    const chosen = open.get(links[0]);
    if (chosen === undefined || loadBps <= limit || links.some(isCircuit)) return [];
    const from = links[0].ends[use.from].switch;
    const streams = [...chosen].filter(([, one]) => one.from === from);
    const movable = sum(streams.map(([leg]) => rates.onWire(leg)?.onLink ?? 0));
    const fixed = loadBps - movable;
    if (streams.length === 0 || fixed > limit) return [];
    const largest = Math.max(...streams.map(([leg]) => rates.onWire(leg)?.onLink ?? 0));
    const even = sum(streams.map(([leg, { ways }]) => (rates.onWire(leg)?.onLink ?? 0) / ways));
    const choosing = [...new Set(streams.flatMap(([, one]) => one.choosing))];
    return [
      {
        use,
        worstBps: loadBps,
        bestBps: fixed + Math.max(even, Math.min(largest, movable)),
        choosing,
        legs: streams.map(([leg]) => leg),
        spread: choosing.every(({ rig }) => rig.practice.equalPaths === 'spread'),
      },
    ];
  });
}

/** What routers that share a full link leave open together. */
export interface OpenCause {
  /** By name. */
  readonly routers: NonEmpty<Box>;
  /** The fullest for its rate first. */
  readonly links: NonEmpty<OpenLink>;
  readonly streams: number;
  readonly spread: boolean;
}

export function openCauses(
  plan: Plan,
  carriage: Carriage,
  receptions: readonly RoutedReception[],
  percentOf: (rig: Rig) => number,
): readonly OpenCause[] {
  const links = openLinks(plan, carriage, receptions, percentOf);
  const together = new UnionFind<Box | OpenLink>();
  for (const one of links) for (const router of one.choosing) together.union(router, one);
  return [...groupBy(links, (one) => together.find(one)).values()].flatMap((own): OpenCause[] => {
    const routers = byLabel([...new Set(own.flatMap(({ choosing }) => choosing))], ({ name }) => name);
    const sorted = byLabel(own, ({ use }) => linkLabel(use.links[0])).toSorted((a, b) => fullness(b) - fullness(a));
    if (!isNonEmpty(routers) || !isNonEmpty(sorted)) return [];
    const streams = new Set(own.flatMap(({ legs }) => legs)).size;
    return [{ routers, links: sorted, streams, spread: own.every(({ spread }) => spread) }];
  });
}

function fullness({ worstBps, use }: OpenLink): number {
  return worstBps / use.rateBps;
}

interface Chosen {
  /** The end of the link it comes from. */
  readonly from: Box;
  /** How many equal paths its routers have. */
  readonly ways: number;
  readonly choosing: readonly Box[];
}

/** By routed link, the legs that cross it because a router took one of several equal paths. */
function openlyChosen(receptions: readonly RoutedReception[]): ReadonlyMap<Link, ReadonlyMap<Leg, Chosen>> {
  const found = new Map<Link, Map<Leg, Chosen>>();
  for (const { leg, way } of receptions) {
    if (way.kind !== 'way') continue;
    const ties = way.ties.filter(({ router }) => choosesOpenly(router));
    if (ties.length === 0) continue;
    // A choice decides what lies between the router that has it and the source.
    let ways = 1;
    const choosing: Box[] = [];
    for (const [index, { forwarding, router }] of [...way.stages.entries()].reverse()) {
      const tie = router === undefined ? undefined : ties.find((one) => one.router === router);
      const link = forwarding.segment.domain.vlans[0]?.transit;
      if (tie !== undefined) {
        // The stage that ends at this router comes before it.
        ways *= tie.ways.length;
        choosing.push(tie.router);
      }
      const from = way.stages[index - 1]?.router;
      if (link === undefined || choosing.length === 0 || from === undefined) continue;
      const legs = found.get(link) ?? new Map<Leg, Chosen>();
      found.set(link, legs);
      const known = legs.get(leg);
      legs.set(leg, {
        from,
        ways: Math.min(ways, known?.ways ?? Infinity),
        choosing: [...new Set([...(known?.choosing ?? []), ...choosing])],
      });
    }
  }
  return found;
}

/** Legs by the routers that choose openly for them. */
export function openChoices(receptions: readonly RoutedReception[]): ReadonlyMap<Box, readonly Leg[]> {
  const found = new Map<Box, Leg[]>();
  for (const { leg, way } of receptions)
    if (way.kind === 'way') for (const { router } of way.ties) if (choosesOpenly(router)) append(found, router, leg);
  return found;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
