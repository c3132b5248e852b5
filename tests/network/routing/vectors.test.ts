/**
 * Ways of routed streams against what was measured: FRR 8.4.4 (OSPF and PIM) in network namespaces of Linux 6.18, each case
 * a network of the same routers, links and costs; and against RFC 7761 where a case says so. A receiver gets a packet with
 * the TTL it was sent with, less one for each router on the way: the measured value is beside each case.
 */
import { describe, expect, it } from 'vitest';
import { branchesOf, type Branch } from '../../../src/model/network/routing/branches.js';
import { chainTo } from '../../../src/model/network/routing/chain.js';
import { routesTo, type Choice } from '../../../src/model/network/routing/routes.js';
import { net, without, type Net, type OnWire } from './router-nets.js';

type Wires = Readonly<Record<string, Readonly<Record<string, OnWire>>>>;

/** The routers on the way, from the source; or why there is none. */
function way({ graph, wire }: Net, from: string, to: string, choice: Choice = 'lowest-address'): string {
  const chain = chainTo(
    routesTo(graph, wire(from), () => choice),
    wire(to),
  );
  return chain.kind === 'chain' ? chain.hops.map(({ router }) => router.name).join(' ') : chain.kind;
}

/** Every wire that gets the stream, with who sends it there: `wire<router`. */
function carried({ graph, wire, name }: Net, from: string, to: readonly string[]): readonly string[] {
  const routes = routesTo(graph, wire(from), () => 'lowest-address');
  const chains = new Map(
    to.flatMap((one) => {
      const chain = chainTo(routes, wire(one));
      return chain.kind === 'chain' ? [[wire(one), chain.hops] as const] : [];
    }),
  );
  const list = (branch: Branch): readonly string[] => [
    `${name(branch.hop.out.wire)}<${branch.hop.router.name}`,
    ...branch.next.flatMap(list),
  ];
  return branchesOf(routes, chains).flatMap(list);
}

const CHAIN: Wires = {
  s: { r1: { address: '10.1.0.1' } },
  a: { r1: { address: '10.9.0.0' }, r2: { address: '10.9.0.1' } },
  two: { r2: { address: '10.2.0.1' } },
  b: { r2: { address: '10.9.0.2' }, r3: { address: '10.9.0.3' } },
  r: { r3: { address: '10.3.0.1' } },
};

const triangle = (l1 = 10, l2 = 10): Wires => ({
  s: { l1: { address: '10.1.0.1' } },
  direct: { l1: { address: '10.9.0.0', cost: l1 }, l2: { address: '10.9.0.1', cost: l2 } },
  first: { l1: { address: '10.9.0.2' }, m: { address: '10.9.0.3' } },
  second: { m: { address: '10.9.0.4' }, l2: { address: '10.9.0.5' } },
  r: { l2: { address: '10.3.0.1' } },
});

const SPINES: Wires = {
  s: { l1: { address: '10.1.0.1' } },
  'l1-sa': { l1: { address: '10.9.0.0' }, sa: { address: '10.9.0.1' } },
  'l1-sb': { l1: { address: '10.9.0.2' }, sb: { address: '10.9.0.3' } },
  'sa-l2': { l2: { address: '10.9.0.4' }, sa: { address: '10.9.0.5' } },
  'sb-l2': { l2: { address: '10.9.0.6' }, sb: { address: '10.9.0.7' } },
  r: { l2: { address: '10.3.0.1' } },
};

const PAIR: Wires = {
  s1: { up: { address: '10.1.0.1' } },
  x1: { up: {}, r1: {} },
  x2: { up: {}, r2: {} },
  r: { r1: { address: '10.3.0.1' }, r2: { address: '10.3.0.2' } },
};

describe('the way of a stream, as measured', () => {
  it('three routers in a row: TTL 16 arrives as 13, and as 14 behind the second (M1)', () => {
    expect(way(net(CHAIN), 's', 'r')).toBe('r1 r2 r3');
    expect(way(net(CHAIN), 's', 'two')).toBe('r1 r2');
    expect(carried(net(CHAIN), 's', ['r', 'two'])).toEqual(['a<r1', 'b<r2', 'r<r3', 'two<r2']);
  });

  it('a triangle of equal costs: direct, 14; its direct link cut: by the third, 13 (M2)', () => {
    expect(way(net(triangle()), 's', 'r')).toBe('l1 l2');
    expect(way(without(triangle(), 'l1@direct', 'l2@direct'), 's', 'r')).toBe('l1 m l2');
  });

  it('only what it costs from the receiver towards the source counts (M3a, M3b)', () => {
    expect(way(net(triangle(10, 50)), 's', 'r')).toBe('l1 m l2');
    expect(way(net(triangle(50, 10)), 's', 'r')).toBe('l1 l2');
  });

  it('two equal spines: all by the one with the lower neighbour address, 13 (M4); by the other once it is lost (M5)', () => {
    expect(way(net(SPINES), 's', 'r')).toBe('l1 sa l2');
    expect(way(net(SPINES), 's', 'r', 'highest-address')).toBe('l1 sb l2');
    expect(way(without(SPINES, 'sa'), 's', 'r')).toBe('l1 sb l2');
    const { graph, wire } = net(SPINES);
    const chain = chainTo(
      routesTo(graph, wire('s'), () => 'lowest-address'),
      wire('r'),
    );
    expect(chain.kind === 'chain' && chain.ties.map(({ router, ways }) => [router.name, ways.length])).toEqual([
      ['l2', 2],
    ]);
  });

  it('a next hop that is no multicast neighbour: no join, nothing comes (M8)', () => {
    const nets: Wires = { ...triangle(10, 50), second: { m: { multicast: false }, l2: {} } };
    expect(way(net(nets), 's', 'r')).toBe('no neighbour');
  });

  it('a way that is preferred by m: 13 (M9)', () => {
    expect(way(net(triangle(10, 1000)), 's', 'r')).toBe('l1 m l2');
  });

  it('two routers one hop from the source serve a subnet: the higher address (M12), the other once it is lost', () => {
    expect(way(net(PAIR), 's1', 'r')).toBe('up r2');
    expect(way(without(PAIR, 'r2'), 's1', 'r')).toBe('up r1');
  });

  it('priority goes before address (RFC 7761 §4.3.2; M12b, in which FRR went on sending with both)', () => {
    const raised: Wires = { ...PAIR, r: { r1: { address: '10.3.0.1', priority: 100 }, r2: { address: '10.3.0.2' } } };
    expect(way(net(raised), 's1', 'r')).toBe('up r1');
  });

  it('a designated router with no other way than the subnet itself: its neighbour serves it (RFC 7761 §4.2; M12c, in which FRR sent it back besides)', () => {
    const astray: Wires = { ...PAIR, r: { ...PAIR['r'], r3: { address: '10.3.0.3' } } };
    expect(way(net(astray), 's1', 'r')).toBe('up r1');
    expect(carried(net(astray), 's1', ['r'])).toEqual(['x1<up', 'r<r1']);
  });

  it('two upstream routers on a subnet with routers behind it: one sends, by cost, then the higher address (RFC 7761 §4.6.3; M14, in which FRR sent with both)', () => {
    const behind = (cost: number): Wires => ({
      ...PAIR,
      x2: { up: {}, r2: { cost } },
      r: {},
      mid: {
        r1: { address: '10.3.0.1' },
        r2: { address: '10.3.0.2' },
        r3: { address: '10.3.0.3' },
        r4: { address: '10.3.0.4' },
      },
      h3: { r3: {} },
      h4: { r4: {} },
      h2: { r2: {} },
    });
    expect(carried(net(behind(10)), 's1', ['h3', 'h4'])).toEqual(['x1<up', 'mid<r1', 'h3<r3', 'h4<r4']);
    const { graph, wire, name } = net(behind(10));
    const routes = routesTo(graph, wire('s1'), (router) =>
      router.name === 'r4' ? 'highest-address' : 'lowest-address',
    );
    const chains = new Map(
      ['h3', 'h4'].flatMap((one) => {
        const chain = chainTo(routes, wire(one));
        return chain.kind === 'chain' ? [[wire(one), chain.hops] as const] : [];
      }),
    );
    const senders = (branch: Branch): readonly string[] => [
      `${name(branch.hop.out.wire)}<${branch.hop.router.name}`,
      ...branch.next.flatMap(senders),
    ];
    expect(branchesOf(routes, chains).flatMap(senders)).toEqual(['x2<up', 'mid<r2', 'h3<r3', 'h4<r4']);
    // At 50 the second router itself goes by the subnet.
    expect(carried(net(behind(50)), 's1', ['h3', 'h4', 'h2'])).toEqual(['x1<up', 'mid<r1', 'h3<r3', 'h4<r4', 'h2<r2']);
  });
});
