/** The load model against the slow way: carry every stream by itself, hop by hop, and add up. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createModel } from '../../src/model/model.js';
import { carriedBy } from '../../src/model/network/forward.js';
import { buildLoad } from '../../src/model/network/load.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { readDocument } from '../../src/read/index.js';
import { planOf, randomRig, type RandomRig } from './random-rig.js';

type Settings = { readonly snooping?: boolean; readonly unregistered?: 'flood' | 'drop'; readonly querier?: number };

describe('loads agree with carrying every stream by itself', () => {
  it('on any network: joined, flooded, towards queriers, routed', () => {
    let busy = 0;
    const settings = fc.record({
      snooping: fc.boolean(),
      unregistered: fc.constantFrom('flood' as const, 'drop' as const),
      querier: fc.nat(6),
    });
    fc.assert(
      fc.property(randomRig({ switches: 7, links: 9, streams: 5, routed: true }), settings, (rig, igmp) => {
        const { plan, model } = modelOf(rig, igmp);
        const weight = (name: string): number => 1 + Number(name.split('-')[1] ?? 0) * 3;
        const load = buildLoad(plan, model.network, ({ leg }) => {
          const rate = weight(leg.sender.device?.name ?? '');
          return { onLink: rate, onPort: rate };
        });
        const links = new Map<string, number>();
        const ports = new Map<string, number>();
        for (const flow of model.network.flows) {
          const rate = weight(flow.leg.sender.device?.name ?? '');
          const carried = carriedBy(flow);
          for (const step of carried.steps.keys()) {
            const [link] = step.edge.links;
            const there = link?.ends[0].switch === flow.forwarding.segment.nodes[step.from];
            const key = `${link?.name ?? ''} ${there ? 'there' : 'back'}`;
            links.set(key, (links.get(key) ?? 0) + rate);
          }
          for (const host of carried.ports.keys())
            ports.set(host.device.name + host.name, (ports.get(host.device.name + host.name) ?? 0) + rate);
        }
        const modelLinks = new Map<string, number>();
        for (const [link, { there, back }] of load.links) {
          if (there > 0) modelLinks.set(`${link.name ?? ''} there`, there);
          if (back > 0) modelLinks.set(`${link.name ?? ''} back`, back);
        }
        const modelPorts = new Map<string, number>();
        for (const one of plan.interfaces) {
          const toHost = one.port === undefined ? 0 : (load.ports.get(one.port)?.toHost ?? 0);
          if (toHost > 0) modelPorts.set(one.device.name + one.name, toHost);
        }
        busy += links.size;
        expect(sorted(modelLinks)).toEqual(sorted(links));
        expect(sorted(modelPorts)).toEqual(sorted(ports));
      }),
      { numRuns: 400 },
    );
    expect(busy).toBeGreaterThan(400);
  });
});

function modelOf(
  rig: RandomRig,
  igmp: Settings,
): { readonly plan: ReturnType<typeof resolvePlan>['plan']; readonly model: ReturnType<typeof createModel> } {
  const raw = planOf(rig) as { vlans: Record<string, unknown>[] };
  const querier = [{ on: `sw-${(igmp.querier ?? 0) % rig.switches.length}`, address: '10.1.0.1' }];
  for (const vlan of raw.vlans) vlan['igmp'] = { snooping: igmp.snooping, unregistered: igmp.unregistered, querier };
  const read = readDocument({ name: 'plan.json', text: JSON.stringify(raw) });
  if (read.document === undefined) throw new Error(JSON.stringify(read.problems));
  const { plan } = resolvePlan([read.document]);
  return { plan, model: createModel(plan) };
}

function sorted(map: ReadonlyMap<string, number>): readonly (readonly [string, number])[] {
  return [...map].sort(([a], [b]) => (a < b ? -1 : 1));
}
