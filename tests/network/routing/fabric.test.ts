/** The network model on random fabrics of routers, against a slow search: verdicts, failures, and what every link carries. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { routedReroutes } from '../../../src/model/network/routed-reroutes.js';
import { linkUses } from '../../../src/model/network/link-use.js';
import type { FlowRate } from '../../../src/model/streams/index.js';
import type { Leg } from '../../../src/plan/types.js';
import { DELIVERED } from '../../../src/model/verdicts/index.js';
import { modelOf } from '../../tools/network-plans.js';
import { bruteCosts, bruteWay } from './brute-ways.js';
import { fabricPlan, feetOf, someFabric, type Fabric, type Out } from './random-fabric.js';

const NOTHING: Out = { routers: new Set(), links: new Set(), mid: false };

/** Routers on the way of a stream to one taker; undefined where it does not get there. */
function wayTo(fabric: Fabric, out: Out, stream: number, taker: number): readonly number[] | undefined {
  const { at = 0, ttl = Infinity } = fabric.streams[stream] ?? {};
  // Hosts hang on the router's own switch, or on the switch of the shared VLAN.
  if (out.routers.has(at) || out.routers.has(taker) || (out.mid && taker === fabric.routers)) return undefined;
  if (at === taker) return [];
  const way = bruteWay(feetOf(fabric, out), at, taker);
  return way === undefined || way.length >= ttl ? undefined : way;
}

function receptions(fabric: Fabric): readonly { readonly stream: number; readonly taker: number }[] {
  return fabric.streams.flatMap(({ takers }, stream) => takers.map((taker) => ({ stream, taker })));
}

function trials(fabric: Fabric): ReadonlyMap<string, Out> {
  const all = new Map<string, Out>([['switch mid', { ...NOTHING, mid: true }]]);
  for (let router = 0; router < fabric.routers; router++)
    all.set(`switch r${router}`, { ...NOTHING, routers: new Set([router]) });
  for (let link = 0; link < fabric.links.length + fabric.sharing.length; link++)
    all.set(`link link-${link}`, { ...NOTHING, links: new Set([link]) });
  all.set('risk duct', {
    ...NOTHING,
    links: new Set(fabric.links.flatMap(({ risk }, link) => (risk ? [link] : []))),
  });
  for (const feed of ['feed-a', 'feed-b'])
    all.set(`power feed ${feed}`, {
      ...NOTHING,
      routers: new Set(fabric.feeds.flatMap((one, router) => (one === feed ? [router] : []))),
    });
  return all;
}

describe('random fabrics of routers', () => {
  it('every receiver gets its stream where a slow search finds a way, and no other', () => {
    const seen = { delivered: 0, dark: 0, short: 0 };
    fc.assert(
      fc.property(someFabric, (fabric) => {
        const { plan, judge, network } = modelOf(fabricPlan(fabric));
        for (const { stream, taker } of receptions(fabric)) {
          const receiver = plan.receivers.find(({ device }) => device.name === `monitor-${stream}-${taker}`);
          const [leg] = receiver?.legs ?? [];
          if (leg?.takes === undefined) throw new Error('the plan lost a receiver');
          const wanted = wayTo(fabric, NOTHING, stream, taker) !== undefined;
          const fate = judge(leg.takes, leg);
          expect([stream, taker, fate === DELIVERED]).toEqual([stream, taker, wanted]);
          const flow = network.flowsOf(leg.takes).find((one) => one.receivers.some((reached) => reached.leg === leg));
          expect(flow !== undefined).toBe(wanted);
          seen[wanted ? 'delivered' : 'dark']++;
          if (!wanted && bruteWay(feetOf(fabric, NOTHING), fabric.streams[stream]?.at ?? 0, taker) !== undefined)
            seen.short++;
        }
      }),
      { numRuns: 400 },
    );
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(20);
  });

  it('a failure takes what a slow search no longer finds a way for, with hops enough', () => {
    let taken = 0;
    let kept = 0;
    fc.assert(
      fc.property(someFabric, (fabric) => {
        const model = modelOf(fabricPlan(fabric));
        const lost = new Map(
          model.failures.ranked
            .filter(({ element }) => element.kind !== 'device' && element.kind !== 'interface')
            .map(({ element, lost: all }) => [
              `${element.kind} ${element.name}`,
              all.map(({ receiver }) => receiver.device.name).sort(),
            ])
            .filter(([, names]) => names?.length !== 0) as [string, readonly string[]][],
        );
        const slow = new Map<string, readonly string[]>();
        for (const [name, out] of trials(fabric)) {
          const gone = receptions(fabric).filter(
            ({ stream, taker }) =>
              wayTo(fabric, NOTHING, stream, taker) !== undefined && wayTo(fabric, out, stream, taker) === undefined,
          );
          kept += out === NOTHING ? 0 : receptions(fabric).length - gone.length;
          taken += gone.length;
          if (gone.length > 0) slow.set(name, gone.map(({ stream, taker }) => `monitor-${stream}-${taker}`).sort());
        }
        expect(Object.fromEntries(lost)).toEqual(Object.fromEntries(slow));
      }),
      { numRuns: 400 },
    );
    expect(taken).toBeGreaterThan(100);
    expect(kept).toBeGreaterThan(100);
  });

  it('links carry after the loss of a routed link what they carry in the plan without it', () => {
    let moved = 0;
    fc.assert(
      fc.property(someFabric, (fabric) => {
        const { plan, network, load, rates } = modelOf(fabricPlan(fabric));
        const rateOf = ({ leg }: { readonly leg: Leg }): FlowRate | undefined => rates.onWire(leg);
        const uses = linkUses(plan, network, load);
        for (const { lost, then } of routedReroutes(plan, network, uses, rateOf, Infinity)) {
          const gone = Number((lost.name ?? '').slice('link-'.length));
          const links = fabric.links.map((link, index) => (index === gone ? { ...link, cut: true } : link));
          const without = modelOf(fabricPlan({ ...fabric, links }));
          const rest = linkUses(without.plan, without.network, without.load);
          for (const {
            links: [link],
            loadBps,
          } of rest) {
            const now = then.find((use) => use.links[0].name === link.name);
            expect(now?.loadBps).toBeCloseTo(loadBps, 3);
            moved += loadBps > (uses.find((use) => use.links[0].name === link.name)?.loadBps ?? 0) ? 1 : 0;
          }
        }
      }),
      { numRuns: 200 },
    );
    expect(moved).toBeGreaterThan(10);
  });

  it('every routed link carries each stream once, in the direction of its ways', () => {
    let carried = 0;
    fc.assert(
      fc.property(someFabric, (fabric) => {
        const { plan, load, rates } = modelOf(fabricPlan(fabric));
        const slow = new Map<string, number>();
        fabric.streams.forEach((_, number) => {
          const leg = plan.legs.find((one) => one.sender.device?.name === `cam-${number}`);
          const rate = leg === undefined ? undefined : rates.onWire(leg)?.onLink;
          for (const key of linksOf(fabric, number)) slow.set(key, (slow.get(key) ?? 0) + (rate ?? NaN));
        });
        for (const [link, { there, back }] of load.links) {
          if (link.transit === undefined) continue;
          expect(there).toBeCloseTo(slow.get(`${link.name ?? ''} 0`) ?? 0, 3);
          expect(back).toBeCloseTo(slow.get(`${link.name ?? ''} 1`) ?? 0, 3);
          carried += there + back > 0 ? 1 : 0;
        }
      }),
      { numRuns: 300 },
    );
    expect(carried).toBeGreaterThan(100);
  });
});

/**
 * Directed routed links a stream passes: `link-3 0` from its first end. By who sends into each wire at last; a packet sent
 * with TTL n leaves n - 1 routers.
 */
function linksOf(fabric: Fabric, stream: number): ReadonlySet<string> {
  const feet = feetOf(fabric, NOTHING);
  const { at = 0, takers = [], ttl = Infinity } = fabric.streams[stream] ?? {};
  const told = bruteCosts(feet, at);
  /** By wire, the routers that would send into it, with the wire each gets it from. */
  const into = new Map<number, Map<number, number>>();
  const wanted = takers.filter((taker) => taker !== at && bruteWay(feet, at, taker) !== undefined);
  for (const taker of wanted) {
    const way = bruteWay(feet, at, taker) ?? [];
    let wire = taker;
    for (const router of [...way].reverse()) {
      const from = feet.some((foot) => foot.router === router && foot.wire === at)
        ? at
        : upstreamWire(feet, told, router);
      const known = into.get(wire) ?? new Map<number, number>();
      into.set(wire, known.set(router, from));
      wire = from;
    }
  }
  const used = new Set<string>();
  for (const taker of wanted) {
    const passed: { readonly link: number; readonly router: number }[] = [];
    for (let wire = taker; wire !== at;) {
      const [winner] = [...(into.get(wire) ?? [])].sort(([a], [b]) => {
        const address = (router: number): number =>
          feet.find((foot) => foot.router === router && foot.wire === wire)?.address ?? 0;
        return (told.get(a) ?? 0) - (told.get(b) ?? 0) || address(b) - address(a);
      });
      if (winner === undefined) throw new Error('nobody sends into a wire that is on the way');
      passed.unshift({ link: wire - fabric.routers - 1, router: winner[0] });
      wire = winner[1];
    }
    for (const { link, router } of passed.slice(0, ttl === Infinity ? undefined : ttl - 1))
      if (link >= 0) used.add(`link-${link} ${fabric.links[link]?.a === router ? 0 : 1}`);
  }
  return used;
}

function upstreamWire(feet: ReturnType<typeof feetOf>, told: ReadonlyMap<number, number>, router: number): number {
  const [best] = feet
    .filter((foot) => foot.router === router)
    .flatMap((foot) =>
      feet
        .filter((other) => other.wire === foot.wire && other.router !== router)
        .map((other) => ({ wire: foot.wire, other, cost: foot.cost + (told.get(other.router) ?? Infinity) })),
    )
    .filter(({ cost }) => cost === told.get(router))
    .sort((a, b) => a.other.address - b.other.address);
  return best?.wire ?? -1;
}
