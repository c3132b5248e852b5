/**
 * Random fabrics of two to four routers, and something to take away from each: chains, rings, leaves and spines, of routed
 * links with costs of their own at each end, some of them two beside each other; one or two networks of hosts at a router,
 * with switches between it and the hosts; streams with hops enough and too few.
 */
import fc from 'fast-check';
import { networksOf, type Cut, type PlainSwitch, type RoutedHost, type RoutedLink, type RoutedRig } from './routers.js';

export interface RandomRoutedRig {
  readonly rig: RoutedRig;
  readonly cut: Cut;
}

export function randomRoutedRigs(count: number, seed: number): readonly RandomRoutedRig[] {
  return fc.sample(
    DRAFT.map((draft): RandomRoutedRig => {
      const rig = rigOf(draft);
      return { rig, cut: cutOf(rig, draft) };
    }),
    { numRuns: count, seed },
  );
}

/** Pairs of routers by number. */
const SHAPES: readonly (readonly (readonly [number, number])[])[] = [
  [[0, 1]],
  // Two links beside each other are two equal paths.
  [
    [0, 1],
    [0, 1],
  ],
  [
    [0, 1],
    [1, 2],
  ],
  [
    [0, 1],
    [1, 2],
    [1, 2],
  ],
  [
    [0, 1],
    [1, 2],
    [2, 0],
  ],
  [
    [0, 1],
    [1, 2],
    [2, 3],
  ],
  [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
  ],
  // Leaves 0 and 1, spines 2 and 3.
  [
    [0, 2],
    [0, 3],
    [1, 2],
    [1, 3],
  ],
  // Leaves 0 to 2, one spine.
  [
    [0, 3],
    [1, 3],
    [2, 3],
  ],
  [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
    [0, 2],
  ],
];

/** Half the ends of links cost what all cost that state nothing. */
const COSTS = fc.constantFrom(undefined, undefined, undefined, 10, 20, 30);

const DRAFT = fc.record({
  shape: fc.constantFrom(...SHAPES),
  costs: fc.array(fc.tuple(COSTS, COSTS), { minLength: 5, maxLength: 5 }),
  /** A link may stand the other way round, so that the lower address is at its other end. */
  turned: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
  snooping: fc.boolean(),
  /** Whether some streams are any-source ones, and which of the routers they meet at. */
  meets: fc.constantFrom(false, false, true),
  rendezvous: fc.nat(99),
  plain: fc.array(fc.nat(99), { maxLength: 2 }),
  hosts: fc.array(fc.record({ at: fc.nat(99), second: fc.constantFrom(false, false, true) }), {
    minLength: 3,
    maxLength: 7,
  }),
  streams: fc.array(
    fc.record({
      from: fc.nat(99),
      any: fc.constantFrom(true, true, false),
      ttl: fc.constantFrom(undefined, undefined, undefined, undefined, 1, 2, 3, 4),
      to: fc.array(fc.nat(99), { minLength: 1, maxLength: 3 }),
    }),
    { minLength: 3, maxLength: 7 },
  ),
  loss: fc.record({ kind: fc.constantFrom('link', 'link', 'router', 'uplink'), which: fc.nat(99) }),
});
type Draft = typeof DRAFT extends fc.Arbitrary<infer T> ? T : never;

const pick = <T>(list: readonly T[], number: number): T => list[number % list.length] as T;

function rigOf(draft: Draft): RoutedRig {
  const { shape, costs, turned, snooping, plain, hosts: places, streams } = draft;
  const count = Math.max(...shape.flat()) + 1;
  const routers = Array.from({ length: count }, (_, index) => `r${index + 1}`);
  const links = shape.map(([a, b], index): RoutedLink => {
    const [near, far] = [routers[a] ?? '', routers[b] ?? ''];
    const [here = 10, there = 10] = costs[index] ?? [];
    return turned[index] === true
      ? { between: [far, near], costs: [there, here] }
      : { between: [near, far], costs: [here, there] };
  });
  const switches = plain.reduce<readonly PlainSwitch[]>(
    (before, at, index) => [
      ...before,
      { name: `p${index + 1}`, below: pick([...routers, ...before.map(({ name }) => name)], at) },
    ],
    [],
  );
  const spots = [...routers, ...switches.map(({ name }) => name)];
  const hosts = places.map(({ at, second }, index): RoutedHost => {
    // One at each end at least, so that streams have a way to go.
    const place =
      index < 2
        ? (routers[index === 0 ? 0 : count === 4 && shape.length === 4 ? 1 : count - 1] ?? '')
        : pick(spots, at);
    return { name: `h${index + 1}`, at: place, ...(second ? { second } : {}) };
  });
  const all = { routers, links, switches, hosts };
  const used = new Set(networksOf({ ...all, streams: [] }).map(({ router }) => router));
  const points = networksOf({ ...all, streams: [] }).flatMap(({ router, second }) => (second ? [] : [router]));
  const rendezvous = draft.meets && points.length > 0 ? pick(points, draft.rendezvous) : undefined;
  return {
    ...all,
    ...(rendezvous === undefined ? {} : { rendezvous }),
    // A trunk of no network is none.
    switches: switches.filter(({ name }) => used.has(routerAbove(switches, name))),
    streams: streams.map(({ from, ttl, any, to }, index) => {
      const sender = pick(hosts, from).name;
      const takers = [...new Set(to.map((number) => pick(hosts, number).name))].filter((name) => name !== sender);
      const about = { name: `s${index + 1}`, from: sender, to: takers };
      // With hops too few for the way by the rendezvous point a last hop never hears of the source (README.md).
      if (any && rendezvous !== undefined) return { ...about, any };
      return ttl === undefined ? about : { ...about, ttl };
    }),
    snooping,
  };
}

function routerAbove(switches: readonly PlainSwitch[], at: string): string {
  const below = switches.find(({ name }) => name === at)?.below;
  return below === undefined ? at : routerAbove(switches, below);
}

function cutOf({ routers, links, switches = [] }: RoutedRig, { loss: { kind, which } }: Draft): Cut {
  if (kind === 'router') return { routers: [pick(routers, which)] };
  if (kind === 'uplink' && switches.length > 0) return { uplinks: [pick(switches, which).name] };
  return { links: [which % links.length] };
}
