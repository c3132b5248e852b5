/** The load model against the slow way: carry every stream by itself, hop by hop, and add up. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { buildLoad } from '../../src/model/network/load.js';
import { planOf, randomRig, type RandomRig } from './random-rig.js';
import { loadSums, sumsOf } from './sums.js';

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
        const { plan, network } = modelOf(withSettings(rig, igmp));
        const weight = (name: string): number => 1 + Number(name.split('-')[1] ?? 0) * 3;
        const load = buildLoad(plan, network, ({ leg }) => {
          const rate = weight(leg.sender.device?.name ?? '');
          return { onLink: rate, onPort: rate };
        });
        const sums = sumsOf(network.flows, ({ leg }) => weight(leg.sender.device?.name ?? ''));
        busy += Object.keys(sums.links).length;
        expect(loadSums(plan, load)).toEqual(sums);
      }),
      { numRuns: 400 },
    );
    expect(busy).toBeGreaterThan(400);
  });
});

function withSettings(rig: RandomRig, igmp: Settings): object {
  const raw = planOf(rig) as { vlans: Record<string, unknown>[] };
  const querier = [{ on: `sw-${(igmp.querier ?? 0) % rig.switches.length}`, address: '10.1.0.1' }];
  for (const vlan of raw.vlans) vlan['igmp'] = { snooping: igmp.snooping, unregistered: igmp.unregistered, querier };
  return raw;
}
