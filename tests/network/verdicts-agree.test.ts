/** The verdict of a receiver leg against where the forwarding function carries its stream. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { carriedBy } from '../../src/model/network/forward.js';
import { DELIVERED } from '../../src/model/verdicts/index.js';
import { planOf, randomRig } from './random-rig.js';

const SETTINGS = fc.record({
  snooping: fc.option(fc.boolean(), { nil: undefined }),
  unregistered: fc.constantFrom('flood' as const, 'drop' as const),
  noQuerier: fc.constantFrom('flood' as const, 'prune' as const, undefined),
  queriers: fc.array(fc.nat(5), { maxLength: 2 }),
  address: fc.constantFrom('10.1.0.1', '0.0.0.0'),
  off: fc.option(fc.nat(5), { nil: undefined }),
});

describe('a leg is called delivered', () => {
  it('where its stream leaves by the port of the receiver, and nowhere else', () => {
    let delivered = 0;
    let denied = 0;
    fc.assert(
      fc.property(
        fc.boolean().chain((routed) => randomRig({ switches: 6, links: 8, streams: 5, routed })),
        SETTINGS,
        (rig, { snooping, unregistered, noQuerier, queriers, address, off }) => {
          const raw = planOf(rig) as { vlans: object[]; switches: object[] };
          const names = [...new Set(queriers.map((at) => `sw-${at % rig.switches.length}`))];
          const file = {
            ...raw,
            vlans: raw.vlans.map((vlan) => ({
              ...vlan,
              igmp: { snooping, unregistered, querier: names.map((on) => ({ on, address })) },
            })),
            switches: raw.switches.map((one, index) => ({
              ...one,
              snoopingKey: 'source-group',
              noQuerier,
              ...(index === off ? { snooping: false } : {}),
            })),
          };
          const { plan, network, judge } = modelOf(file);
          for (const taker of plan.receiverLegs) {
            const { takes: leg, interface: via } = taker;
            if (leg === undefined || via === undefined) continue;
            const leaves = network.flowsOf(leg).some((flow) => carriedBy(flow).ports.get(via)?.kind === 'joined');
            const own = leg.interface === via;
            expect([taker.receiver.label, own || leaves]).toEqual([
              taker.receiver.label,
              own || judge(leg, taker) === DELIVERED,
            ]);
            if (leaves) delivered++;
            else denied++;
          }
        },
      ),
      { numRuns: 500 },
    );
    expect(Math.min(delivered, denied)).toBeGreaterThan(100);
  });
});
