/** What keeps routers in a row from bringing a stream to a receiver, or makes the way uncertain: one entry a cause. */
import { append, groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Leg, Link, Plan, ReceiverLeg, Vlan } from '../../plan/types.js';
import type { Network } from './flows.js';
import type { RoutedReception } from './routed-receptions.js';
import type { Box } from './routing/feet.js';
import { lasts } from './way.js';

/** Who is concerned. */
export interface Concerned {
  readonly legs: readonly Leg[];
  readonly takers: NonEmpty<ReceiverLeg>;
}

/** Two groups of routers that no multicast routing joins, and streams that would have to get from one to the other. */
export interface ApartRouters extends Concerned {
  /** By name; the smaller group first. */
  readonly few: NonEmpty<Box>;
  readonly many: NonEmpty<Box>;
  /** Links between the two groups that route no multicast. */
  readonly between: readonly Link[];
  /** VLANs in which routers of both are to stand, so that no link carries them all the way. */
  readonly cut: readonly Vlan[];
}

export function apartRouters(
  plan: Plan,
  { routing }: Network,
  receptions: readonly RoutedReception[],
): readonly ApartRouters[] {
  const apart = receptions.filter(({ way }) => way.kind === 'apart');
  if (apart.length === 0) return [];
  const routers = groupBy(new Set(routing.feet.map(({ on }) => on)), (on) => routing.islandOf(on, true));
  const names = (island: unknown): string =>
    (routers.get(island) ?? [])
      .map(({ name }) => name)
      .sort()
      .join(' ');
  const pairs = new Map<string, { readonly islands: readonly [unknown, unknown]; readonly own: RoutedReception[] }>();
  for (const one of apart) {
    const [a, b] = [one.from, one.to].map((spot) => routing.islandOf(routing.wireOf(spot) ?? -1, true));
    const ordered = byLabel([a, b], names);
    const key = ordered.map(names).join(' | ');
    const known = pairs.get(key);
    if (known === undefined) pairs.set(key, { islands: [ordered[0], ordered[1]], own: [one] });
    else known.own.push(one);
  }
  return [...pairs.values()].flatMap(({ islands: [a, b], own }): ApartRouters[] => {
    const sides = [routers.get(a) ?? [], routers.get(b) ?? []]
      .map((side) => byLabel(side, ({ name }) => name))
      .sort((x, y) => x.length - y.length);
    const [few = [], many = []] = sides;
    const who = concerned(own);
    if (!isNonEmpty(few) || !isNonEmpty(many) || who === undefined) return [];
    const joins = ({ ends }: Link): boolean =>
      [few, many].every((side) => ends.some((end) => end.switch !== undefined && side.includes(end.switch)));
    const holdsBoth = ({ routing: own }: Vlan): boolean =>
      own !== undefined && [few, many].every((side) => own.routers.some((router) => side.includes(router)));
    return [{ few, many, between: plan.links.filter(joins), cut: plan.vlans.filter(holdsBoth), ...who }];
  });
}

/** A router whose shortest way to a source goes to a neighbour that takes no joins. */
export interface NoNeighbour extends Concerned {
  readonly at: Box;
  readonly neighbour: Box;
  /** Routed links between the two that do not route multicast. */
  readonly links: readonly Link[];
}

export function noNeighbours(plan: Plan, receptions: readonly RoutedReception[]): readonly NoNeighbour[] {
  const found = new Map<Box, Map<Box, RoutedReception[]>>();
  for (const one of receptions) {
    if (one.way.kind !== 'no neighbour') continue;
    const { at, neighbour } = one.way;
    const own = found.get(at) ?? new Map<Box, RoutedReception[]>();
    found.set(at, own);
    append(own, neighbour, one);
  }
  return [...found].flatMap(([at, byNeighbour]) =>
    [...byNeighbour].flatMap(([neighbour, own]): NoNeighbour[] => {
      const who = concerned(own);
      const links = plan.links.filter(
        ({ transit, ends }) =>
          transit?.routing?.mode === 'none' && [at, neighbour].every((box) => ends.some((end) => end.switch === box)),
      );
      return who === undefined ? [] : [{ at, neighbour, links, ...who }];
    }),
  );
}

/** A designated router that asks another router of the same subnet for a stream, so that this one sends it there. */
export interface AstrayDesignated extends Concerned {
  readonly designated: Box;
  /** Who sends the stream into the subnet in its place. */
  readonly sending: Box;
  /** False where an address that nobody states could make another one the designated router. */
  readonly sure: boolean;
  readonly vlan: NonNullable<ReceiverLeg['vlan']>;
}

export function astrayDesignated(receptions: readonly RoutedReception[]): readonly AstrayDesignated[] {
  const astray = receptions.flatMap((one) => {
    const { vlan } = one.taker;
    if (one.way.kind !== 'way' || vlan === undefined) return [];
    const sending = one.way.stages.at(-2)?.router;
    const { on, sure } = one.way.designated;
    return sending === undefined || sending === on ? [] : [{ one, vlan, designated: on, sending, sure }];
  });
  return [...groupBy(astray, ({ one }) => one.to.forwarding)].flatMap(([, own]): AstrayDesignated[] => {
    const [{ vlan, designated, sending, sure }] = own;
    const who = concerned(own.map(({ one }) => one));
    return who === undefined ? [] : [{ vlan, designated, sending, sure, ...who }];
  });
}

/** A leg that more routers lie before than its TTL lasts for. */
export interface ShortLived {
  readonly leg: Leg;
  readonly takers: NonEmpty<ReceiverLeg>;
  /** The most that it would have to pass. */
  readonly routers: number;
}

export function shortLived(receptions: readonly RoutedReception[]): readonly ShortLived[] {
  const short = receptions.filter(({ leg, way }) => way.kind === 'way' && !lasts(leg, way.stages));
  return [...groupBy(short, ({ leg }) => leg)].flatMap(([leg, own]): ShortLived[] => {
    const who = concerned(own);
    const routers = Math.max(...own.map(({ way }) => (way.kind === 'way' ? way.stages.length - 1 : 0)));
    return who === undefined ? [] : [{ leg, takers: who.takers, routers }];
  });
}

function concerned(own: readonly RoutedReception[]): Concerned | undefined {
  const takers = [...new Set(own.map(({ taker }) => taker))];
  return isNonEmpty(takers) ? { legs: [...new Set(own.map(({ leg }) => leg))], takers } : undefined;
}
