/**
 * VLANs against what others wrote: the bounds of a VLAN id as IEEE publishes them in YANG, and domains against frames
 * sent one hop at a time as IEEE 802.1Q-2022 clauses 6.9 (ingress: which VLAN a frame belongs to) and 8.6 (egress:
 * which ports carry it, tagged or not) describe a bridge.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { buildDomains } from '../../src/model/vlans/domains.js';
import idOutOfRange from '../../rules/vlans/id-out-of-range/rule.js';

const SEED = 20260711;

describe('VLAN ids', () => {
  /** `typedef vlanid { type uint16 { range "1..4094"; } }` of ieee802-dot1q-types.yang, IEEE 802.1 YANG, read in YangModels/yang. */
  const RANGE = { first: 1, last: 4094 };

  it('are accepted and refused exactly as the YANG type `vlanid` does', () => {
    const ids = [-1, 0, 1, 2, 1002, 4093, 4094, 4095, 4096, 65535];
    const text = JSON.stringify({ vlans: ids.map((id) => ({ name: `v${id}`, id })) });
    const refused = lintInputs([{ name: 'plan.json', text }], [idOutOfRange], { today: '2026-06-01' }).findings.map(
      (finding) => finding.parties[0],
    );
    expect(refused).toEqual(ids.filter((id) => id < RANGE.first || id > RANGE.last).map((id) => `v${id}`));
  });
});

const SWITCHES = 4;
const VLANS = 3;
const vlanIndex = fc.nat(VLANS - 1);

interface TestPort {
  readonly access?: number;
  readonly trunk?: 'all' | readonly number[];
  readonly native?: number;
}

const portArb: fc.Arbitrary<TestPort> = fc.oneof(
  fc.record({ access: vlanIndex }),
  fc.record({ trunk: fc.constant('all' as const) }),
  fc.record({ trunk: fc.uniqueArray(vlanIndex, { minLength: 1 }) }),
  fc.record({ trunk: fc.uniqueArray(vlanIndex, { minLength: 1 }), native: vlanIndex }),
  fc.record({ trunk: fc.constant('all' as const), native: vlanIndex }),
);

const linkArb = fc.record({
  from: fc.nat(SWITCHES - 1),
  to: fc.nat(SWITCHES - 1),
  near: portArb,
  far: portArb,
  only: fc.option(fc.uniqueArray(vlanIndex, { minLength: 1 }), { nil: undefined }),
});

const topologyArb = fc.record({
  links: fc.array(linkArb, { minLength: 1, maxLength: 6 }),
  /** A link for each switch, so that none is without. */
  ring: fc.array(linkArb, { minLength: SWITCHES, maxLength: SWITCHES }),
  routing: fc.array(fc.option(fc.uniqueArray(fc.nat(SWITCHES - 1), { maxLength: 2 }), { nil: undefined }), {
    minLength: VLANS,
    maxLength: VLANS,
  }),
});

interface TestLink {
  readonly ends: readonly [number, number];
  readonly ports: readonly [TestPort, TestPort];
  readonly only: readonly number[] | undefined;
}

describe('domains', () => {
  it('are what frames sent hop by hop reach', () => {
    let apart = 0;
    let together = 0;
    fc.assert(
      fc.property(topologyArb, (topology) => {
        const links = linksOf(topology);
        const plan = planOf(links, topology.routing);
        const domains = buildDomains(plan);
        for (const here of plan.interfaces) {
          const [from, vlan] = placeOf(here.name);
          const flooded = flood(links, from, vlan);
          const routed = spread(links, topology.routing, from, vlan);
          for (const there of plan.interfaces) {
            const same = flooded.has(key(...placeOf(there.name)));
            expect(domains.switched(here) === domains.switched(there)).toBe(same);
            expect(domains.reach(here) === domains.reach(there)).toBe(routed.has(key(...placeOf(there.name))));
            if (same) together += 1;
            else apart += 1;
          }
        }
      }),
      { seed: SEED, numRuns: 300 },
    );
    // the random topologies hold plenty of both
    expect(Math.min(apart, together)).toBeGreaterThan(5_000);
  });
});

function linksOf(topology: {
  readonly links: readonly LinkOf[];
  readonly ring: readonly LinkOf[];
}): readonly TestLink[] {
  const make = (one: LinkOf, from: number, to: number): TestLink => ({
    ends: [from, to],
    ports: [one.near, one.far],
    only: one.only,
  });
  return [
    ...topology.ring.map((one, index) => make(one, index, (index + 1) % SWITCHES)),
    ...topology.links.filter((one) => one.from !== one.to).map((one) => make(one, one.from, one.to)),
  ];
}

type LinkOf = typeof linkArb extends fc.Arbitrary<infer T> ? T : never;

/** Where one frame of a VLAN gets from a switch; VLAN 0 has id 100, and so on. */
function flood(links: readonly TestLink[], from: number, vlan: number): ReadonlySet<string> {
  const seen = new Set([key(from, vlan)]);
  const queue: [number, number][] = [[from, vlan]];
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const [at, inside] = next;
    for (const link of links) {
      for (const near of [0, 1] as const) {
        const far = near === 0 ? 1 : 0;
        if (link.ends[near] !== at) continue;
        const frame = egress(link.ports[near], inside);
        if (frame === undefined) continue;
        if (frame.tag !== undefined && link.only !== undefined && !link.only.includes(frame.tag)) continue;
        const arrived = ingress(link.ports[far], frame);
        if (arrived === undefined || seen.has(key(link.ends[far], arrived))) continue;
        seen.add(key(link.ends[far], arrived));
        queue.push([link.ends[far], arrived]);
      }
    }
  }
  return seen;
}

interface Frame {
  readonly tag?: number;
}

function egress(port: TestPort, vlan: number): Frame | undefined {
  if ((port.access ?? port.native) === vlan) return {};
  return port.trunk === 'all' || port.trunk?.includes(vlan) === true ? { tag: vlan } : undefined;
}

function ingress(port: TestPort, frame: Frame): number | undefined {
  if (frame.tag === undefined) return port.access ?? port.native;
  return egress(port, frame.tag)?.tag;
}

/** Flooding and routing in turns; a VLAN that is routed is routed wherever it is. */
function spread(
  links: readonly TestLink[],
  routing: readonly (readonly number[] | undefined)[],
  from: number,
  vlan: number,
): ReadonlySet<string> {
  const reached = new Set(flood(links, from, vlan));
  const routersOf = (one: number): readonly (number | string)[] | undefined =>
    routing[one]?.length === 0 ? ['the rig’s router'] : routing[one];
  for (let before = -1; before !== reached.size;) {
    before = reached.size;
    for (const place of [...reached]) {
      const inside = Number(place.split(' ')[1]);
      for (let other = 0; other < VLANS; other += 1) {
        if (routersOf(inside)?.some((router) => routersOf(other)?.includes(router) === true) !== true) continue;
        for (let at = 0; at < SWITCHES; at += 1) for (const more of flood(links, at, other)) reached.add(more);
      }
    }
  }
  return reached;
}

function planOf(
  links: readonly TestLink[],
  routing: readonly (readonly number[] | undefined)[],
): ReturnType<typeof loadPlan>['plan'] {
  const ports = Array.from({ length: SWITCHES }, (_, at) =>
    Array.from({ length: VLANS }, (__, vlan): object => ({ name: `host${vlan}`, access: `v${vlan}` })).map((port) => ({
      at,
      port,
    })),
  );
  const all = ports.flat();
  const named = (port: TestPort): object => ({
    ...(port.access === undefined ? {} : { access: `v${port.access}` }),
    ...(port.trunk === undefined ? {} : { trunk: port.trunk === 'all' ? 'all' : port.trunk.map((vlan) => `v${vlan}`) }),
    ...(port.native === undefined ? {} : { native: `v${port.native}` }),
  });
  const written = links.map((link, index) => {
    for (const end of [0, 1] as const)
      all.push({ at: link.ends[end], port: { name: `link${index}-end${end}`, ...named(link.ports[end]) } });
    return {
      ends: ([0, 1] as const).map((end) => `s${link.ends[end]}/link${index}-end${end}`),
      ...(link.only === undefined ? {} : { vlans: link.only.map((vlan) => `v${vlan}`) }),
    };
  });
  const value = {
    vlans: Array.from({ length: VLANS }, (_, vlan) => {
      const routers = routing[vlan];
      return {
        name: `v${vlan}`,
        id: 100 + vlan,
        ...(routers === undefined ? {} : { routing: { mode: 'pim-sm', routers: routers.map((at) => `s${at}`) } }),
      };
    }),
    switches: Array.from({ length: SWITCHES }, (_, at) => ({
      name: `s${at}`,
      ports: all.filter((one) => one.at === at).map((one) => one.port),
    })),
    links: written,
    devices: Array.from({ length: SWITCHES }, (_, at) => ({
      name: `d${at}`,
      interfaces: Array.from({ length: VLANS }, (__, vlan) => ({
        name: `${at} ${vlan}`,
        vlan: `v${vlan}`,
        port: `s${at}/host${vlan}`,
      })),
    })),
  };
  const loaded = loadPlan([{ name: 'plan.json', text: JSON.stringify(value) }]);
  expect(loaded.problems).toEqual([]);
  expect(loaded.plan.unresolved).toEqual([]);
  return loaded.plan;
}

function placeOf(name: string): readonly [number, number] {
  const [at, vlan] = name.split(' ').map(Number);
  return [at ?? -1, vlan ?? -1];
}

function key(at: number, vlan: number): string {
  return `${at} ${vlan}`;
}
