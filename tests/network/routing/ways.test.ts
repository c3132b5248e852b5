/** The ways of streams through random networks of routers, against a slow search; and what holds of their union. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { branchesOf, type Branch } from '../../../src/model/network/routing/branches.js';
import { chainTo } from '../../../src/model/network/routing/chain.js';
import { routerGraph, type Foot, type Router } from '../../../src/model/network/routing/graph.js';
import { routesTo } from '../../../src/model/network/routing/routes.js';
import { bruteWay, type BruteFoot } from './brute-ways.js';

const WIRES = 7;

const someFeet = fc
  .array(
    fc.record({
      router: fc.nat(5),
      wire: fc.nat(WIRES - 1),
      cost: fc.integer({ min: 1, max: 4 }),
      priority: fc.constantFrom(1, 1, 1, 0, 5),
    }),
    { minLength: 6, maxLength: 20 },
  )
  .map((all): readonly BruteFoot[] =>
    all
      .filter((one, at) => all.findIndex((other) => other.router === one.router && other.wire === one.wire) === at)
      .map((one, at) => ({ ...one, address: (at * 7919) % 101 })),
  );

function modelFeet(feet: readonly BruteFoot[]): readonly Foot[] {
  const routers = Array.from({ length: 6 }, (_, number): Router => ({ name: String(number) }));
  return feet.map(({ router, wire, cost, priority, address }) => ({
    on: routers[router] ?? { name: '' },
    wire,
    cost,
    multicast: true,
    priority,
    address,
  }));
}

describe('ways of routed streams', () => {
  it('are those of a slow search, whatever routers and wires', () => {
    let found = 0;
    let long = 0;
    fc.assert(
      fc.property(someFeet, fc.nat(WIRES - 1), (feet, from) => {
        const graph = routerGraph(modelFeet(feet));
        const routes = routesTo(graph, from, () => 'lowest-address');
        for (let to = 0; to < WIRES; to++) {
          if (to === from) continue;
          const chain = chainTo(routes, to);
          const way = chain.kind === 'chain' ? chain.hops.map(({ router }) => Number(router.name)) : undefined;
          expect(way).toEqual(bruteWay(feet, from, to));
          found += way === undefined ? 0 : 1;
          long += (way?.length ?? 0) > 2 ? 1 : 0;
        }
      }),
      { numRuns: 2000 },
    );
    expect(found).toBeGreaterThan(1000);
    expect(long).toBeGreaterThan(50);
  });

  it('carry a stream over every wire once, and to every wire that has a way', () => {
    fc.assert(
      fc.property(someFeet, fc.nat(WIRES - 1), fc.subarray([0, 1, 2, 3, 4, 5, 6]), (feet, from, wanted) => {
        const graph = routerGraph(modelFeet(feet));
        const routes = routesTo(graph, from, () => 'lowest-address');
        const chains = new Map(
          wanted.flatMap((to) => {
            const chain = to === from ? undefined : chainTo(routes, to);
            return chain?.kind === 'chain' ? [[to, chain.hops] as const] : [];
          }),
        );
        const list = (branch: Branch, into: number): readonly number[] => {
          expect(branch.hop.into.wire).toBe(into);
          expect(branch.hop.into.on).toBe(branch.hop.out.on);
          return [branch.hop.out.wire, ...branch.next.flatMap((one) => list(one, branch.hop.out.wire))];
        };
        const got = branchesOf(routes, chains).flatMap((one) => list(one, from));
        expect(new Set(got).size).toBe(got.length);
        expect(got).not.toContain(from);
        for (const to of chains.keys()) expect(got).toContain(to);
      }),
      { numRuns: 1000 },
    );
  });
});
