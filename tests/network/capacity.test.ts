/** What fills a link, and what a lost link does to the others, against the load model and against the plan without it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createModel, type Model } from '../../src/model/model.js';
import { burdensOf } from '../../src/model/network/burden.js';
import { arrivalsAt, floodings } from '../../src/model/network/arrivals.js';
import type { CutTree } from '../../src/model/network/cut-tree.js';
import type { Flow } from '../../src/model/network/flows.js';
import type { Edge } from '../../src/model/network/segment.js';
import { carriedBy } from '../../src/model/network/forward.js';
import { linkUses } from '../../src/model/network/link-use.js';
import { buildLoad } from '../../src/model/network/load.js';
import { rerouted } from '../../src/model/network/rerouted.js';
import { tableUses } from '../../src/model/network/group-tables.js';
import type { Plan } from '../../src/plan/types.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { readDocument } from '../../src/read/index.js';
import { planOf, randomRig } from './random-rig.js';

function floodsSomebody(flow: Flow): boolean {
  const { steps, ports } = carriedBy(flow);
  return [...steps.values(), ...ports.values()].some(({ kind }) => kind === 'flooded');
}

type Raw = { vlans: Record<string, unknown>[]; links: Record<string, unknown>[]; switches: Record<string, unknown>[] };
interface Settings {
  readonly snooping?: boolean | undefined;
  readonly unregistered?: 'flood' | 'drop';
  readonly querier: number;
}

const SETTINGS: fc.Arbitrary<Settings> = fc.record({
  snooping: fc.option(fc.boolean(), { nil: undefined }),
  unregistered: fc.constantFrom('flood' as const, 'drop' as const),
  querier: fc.nat(6),
});
const RIG = randomRig({ switches: 7, links: 9, streams: 5, routed: true });

describe('the reasons for a load', () => {
  it('add up to it, on every link, and so do its senders', () => {
    let flooded = 0;
    let joined = 0;
    let towards = 0;
    fc.assert(
      fc.property(RIG, SETTINGS, (rig, settings) => {
        const { plan, model } = modelOf(withSettings(planOf(rig), settings));
        const load = buildLoad(plan, model.network, rateOf);
        const uses = linkUses(plan, model.network, load);
        const burdens = burdensOf(model.network, rateOf, new Map(uses.map((use) => [use, use.spans])));
        for (const use of uses) {
          const burden = burdens.get(use);
          // Of links side by side the first carries everything; the others share its segment's edge.
          if (burden === undefined || use.spans.some(({ edge }) => edge.links.length > 1)) continue;
          expect(burden.joinedBps + burden.towardsBps + burden.floodedBps).toBe(use.loadBps);
          expect(burden.senders.reduce((sum, [, rate]) => sum + rate, 0)).toBe(use.loadBps);
          joined += burden.joinedBps;
          flooded += burden.floodedBps;
          towards += burden.towardsBps;
          expect(Math.min(burden.joinedBps, burden.towardsBps, burden.floodedBps)).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 300 },
    );
    expect(Math.min(joined, flooded, towards)).toBeGreaterThan(50);
  });

  it('of a host port are what it joined, what it gets as a router and what floods', () => {
    let seen = 0;
    fc.assert(
      fc.property(RIG, SETTINGS, (rig, settings) => {
        const { plan, model } = modelOf(withSettings(planOf(rig), settings));
        const load = buildLoad(plan, model.network, rateOf);
        const hosts = plan.interfaces.filter((one) => one.port !== undefined);
        const arrivals = arrivalsAt(model.network, rateOf, new Set(hosts));
        for (const host of hosts) {
          const carried = host.port === undefined ? undefined : load.ports.get(host.port);
          const { joined = new Map<unknown, number>(), asRouterBps = 0 } = arrivals.get(host) ?? {};
          // What is joined but cannot arrive, as nothing leads there, is no load.
          const arriving = [...model.network.flows].filter(
            (flow) => joined.has(flow.leg) && carriedBy(flow).ports.get(host)?.kind === 'joined',
          );
          const sum = arriving.reduce((total, flow) => total + weight(flow), 0);
          expect((carried?.toHost ?? 0) - (carried?.flooded ?? 0)).toBe(sum + asRouterBps);
          seen += sum;
        }
        const floods = floodings(model.network, rateOf);
        for (const [forwarding, { rateBps }] of floods) {
          const here = model.network.flows.filter((flow) => flow.forwarding === forwarding);
          const sumOver = (counts: (flow: Flow) => boolean): number =>
            here.filter(counts).reduce((total, flow) => total + weight(flow), 0);
          // A switch without hosts and further links floods nobody.
          expect(rateBps).toBeGreaterThanOrEqual(sumOver(floodsSomebody));
          expect(rateBps).toBeLessThanOrEqual(sumOver((flow) => flow.flood !== undefined || flow.partly));
        }
      }),
      { numRuns: 200 },
    );
    expect(seen).toBeGreaterThan(100);
  });
});

describe('a lost link', () => {
  it('overloads what it overloads in the plan without it', () => {
    let compared = 0;
    fc.assert(
      fc.property(randomRig({ switches: 5, links: 12, streams: 12, routed: false }), fc.nat(4), (rig, querier) => {
        const raw = withSettings(planOf(rig), { snooping: true, unregistered: 'drop', querier });
        for (const link of raw.links) link['rate'] = `${RATE} bit/s`;
        const { plan, model } = modelOf(raw);
        const load = buildLoad(plan, model.network, rateOf);
        const found = new Map(
          rerouted(plan, model.network, load, rateOf, model.unrated, () => 100).flatMap(({ use, after }) =>
            after.map((one) => [`${use.links[0].name ?? ''} after ${one.lost.name ?? ''}`, one.loadBps]),
          ),
        );
        const before = busiest(plan, load.links);
        for (const {
          links: [lost],
          spans,
        } of linkUses(plan, model.network, load)) {
          // A bridge takes its streams with it; the first of several side by side gives the others another place in the tree.
          if (
            spans.some(({ forwarding, edge }) =>
              edge.links.length > 1
                ? edge.links[0] === lost
                : !forwarding.segment.looped || isBridge(forwarding.cuts, edge),
            )
          )
            continue;
          const without = modelOf({ ...raw, links: raw.links.filter((one) => one['name'] !== lost.name) });
          const after = busiest(without.plan, buildLoad(without.plan, without.model.network, rateOf).links);
          for (const [name, loadBps] of after) {
            const expected = loadBps > RATE && (before.get(name) ?? 0) <= RATE ? loadBps : undefined;
            expect(found.get(`${name} after ${lost.name ?? ''}`)).toBe(expected);
            if (expected !== undefined) compared++;
          }
        }
      }),
      { numRuns: 500 },
    );
    expect(compared).toBeGreaterThan(5);
  });
});

describe('group tables', () => {
  it('hold what passes each switch by carrying every stream by itself', () => {
    let entries = 0;
    fc.assert(
      fc.property(RIG, SETTINGS, fc.constantFrom('mac', 'group', 'source-group', undefined), (rig, settings, key) => {
        const raw = withSettings(planOf(rig), settings);
        for (const one of raw.switches)
          Object.assign(one, { groupTableSize: 1000, ...(key === undefined ? {} : { snoopingKey: key }) });
        const { plan, model } = modelOf(raw);
        const slow = new Map(plan.switches.map((one) => [one.name, new Set<string>()]));
        for (const flow of model.network.flows) {
          if (flow.flood !== undefined) continue;
          const { nodes } = flow.forwarding.segment;
          // A switch between a receiver and the querier passes the report, so it is not in the stream's own way alone.
          const ways = [
            ...flow.receivers.flatMap(({ node }) => [
              [flow.from, node] as const,
              ...flow.plane.sinks.map((sink) => [node, sink.node] as const),
            ]),
            ...flow.plane.sinks.map((sink) => [flow.from, sink.node] as const),
          ];
          for (const [from, to] of ways) {
            const steps = flow.forwarding.tree.path(from, to);
            if (steps === undefined) continue;
            // Every stream of these rigs has a group of its own, and none shares a multicast MAC in its VLAN.
            for (const node of [from, ...steps.map((step) => step.to)])
              slow
                .get(nodes[node]?.name ?? '')
                ?.add(`${model.network.forwardings.indexOf(flow.forwarding)} ${String(flow.leg.group)}`);
          }
        }
        for (const { switch: one, all, joined } of tableUses(plan, model.network)) {
          expect(all).toBe(slow.get(one.name)?.size);
          expect(joined).toBeLessThanOrEqual(all);
          entries += all;
        }
      }),
      { numRuns: 200 },
    );
    expect(entries).toBeGreaterThan(200);
  });
});

const RATE = 8;

function weight({ leg }: Flow): number {
  return 1 + Number(leg.sender.device?.name.split('-')[1] ?? 0) * 3;
}

/** Whether its two switches lose each other without it. */
function isBridge(cuts: CutTree, edge: Edge): boolean {
  const found: Edge[] = [];
  cuts.visitBetween(edge.a, edge.b, { node: () => undefined, edge: (one) => found.push(one) });
  return found.includes(edge);
}

function rateOf(flow: Flow): { readonly onLink: number; readonly onPort: number } {
  return { onLink: weight(flow), onPort: weight(flow) };
}

function busiest(plan: Plan, links: ReturnType<typeof buildLoad>['links']): ReadonlyMap<string, number> {
  return new Map(
    plan.links.map((link) => [link.name ?? '', Math.max(links.get(link)?.there ?? 0, links.get(link)?.back ?? 0)]),
  );
}

function withSettings(plan: object, { snooping, unregistered, querier }: Settings): Raw {
  const raw = plan as Raw;
  const on = `sw-${querier % raw.switches.length}`;
  for (const vlan of raw.vlans)
    vlan['igmp'] = {
      ...(snooping === undefined ? {} : { snooping }),
      unregistered,
      querier: [{ on, address: '10.1.0.1' }],
    };
  return raw;
}

function modelOf(raw: object): { readonly plan: Plan; readonly model: Model } {
  const read = readDocument({ name: 'plan.json', text: JSON.stringify(raw) });
  if (read.document === undefined) throw new Error(JSON.stringify(read.problems));
  const { plan } = resolvePlan([read.document]);
  return { plan, model: createModel(plan) };
}
