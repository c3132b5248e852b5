/** The cheap looks never say "nothing can be wrong" where the full look finds something. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { sharedByLegs } from '../../src/model/network/shared-fate.js';
import { planOf, randomRig } from './random-rig.js';

describe('bounds', () => {
  it('legs said to be kept apart share no failure, and no reception has one leg', () => {
    let apart = 0;
    fc.assert(
      fc.property(randomRig({ switches: 6, links: 7, streams: 4, routed: true }), fc.boolean(), (rig, twoLegs) => {
        // Half the cases: every stream has two legs and each network its own switches, so that some are truly apart.
        const half = Math.ceil(rig.switches.length / 2);
        const own = (at: readonly number[]): readonly number[] => [
          (at[0] ?? 0) % half,
          half + ((at[1] ?? 0) % Math.max(1, rig.switches.length - half)),
        ];
        const sorted =
          !twoLegs || rig.switches.length < 2
            ? rig
            : {
                ...rig,
                routed: false,
                switches: rig.switches.map((one) => ({ ...one, power: [] })),
                links: rig.links.flatMap((link) =>
                  link.a < half === link.b < half
                    ? [{ ...link, risks: [], vlans: link.a < half ? ['red-video', 'red-audio'] : ['blue-video'] }]
                    : [],
                ),
                streams: rig.streams.map((stream) => ({
                  ...stream,
                  legs: 2,
                  receiverVlan: 0,
                  at: own(stream.at),
                  receivers: stream.receivers.map(own),
                })),
              };
        const model = modelOf(planOf(sorted));
        if (!model.keptApart) return;
        apart += model.failures.receptions.length;
        expect(sharedByLegs(model.failures).map(({ element }) => `${element.kind} ${element.name}`)).toEqual([]);
      }),
      { numRuns: 400 },
    );
    expect(apart).toBeGreaterThan(50);
  });

  it('links and ports said to hold everything are never fuller than their rate', () => {
    let held = 0;
    fc.assert(
      fc.property(
        randomRig({ switches: 5, links: 6, streams: 4, routed: true }),
        fc.constantFrom('100M', '5M', '1G'),
        fc.boolean(),
        (rig, rate, snooping) => {
          const raw = planOf(rig) as {
            vlans: Record<string, unknown>[];
            links: Record<string, unknown>[];
            switches: { ports: Record<string, unknown>[] }[];
            devices: { senders?: Record<string, unknown>[] }[];
            formats?: object[];
          };
          for (const vlan of raw.vlans) vlan['igmp'] = { snooping, unregistered: 'flood', querier: [{ on: 'sw-0' }] };
          for (const link of raw.links) link['rate'] = rate;
          for (const one of raw.switches) for (const port of one.ports) port['rate'] = rate;
          for (const device of raw.devices) for (const sender of device.senders ?? []) sender['format'] = 'stereo';
          raw.formats = [
            { name: 'stereo', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
          ];
          const model = modelOf(raw);
          const limit = { '100M': 1e8, '5M': 5e6, '1G': 1e9 }[rate];
          if (model.headroom.linksHoldAll(() => 100)) {
            held++;
            for (const { there, back } of model.load.links.values())
              expect(Math.max(there, back)).toBeLessThanOrEqual(limit * 1.0001);
          }
          if (model.headroom.portsHoldAll(() => 100))
            for (const { toHost, fromHost } of model.load.ports.values())
              expect(Math.max(toHost, fromHost)).toBeLessThanOrEqual(limit * 1.0001);
        },
      ),
      { numRuns: 300 },
    );
    expect(held).toBeGreaterThan(50);
  });
});
