/** Streams to one address against a walk of its own on random networks: who gets them, what carries them, what takes them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { buildLoad } from '../../src/model/network/load.js';
import { DELIVERED } from '../../src/model/verdicts/index.js';
import { bruteFailures, reaches } from './brute-force.js';
import { randomRig, type RandomRig } from './random-rig.js';
import { loadSums, sumsOf } from './sums.js';
import { unicastPlan } from './unicast-rig.js';

const NOTHING = { switches: new Set<number>(), links: new Set<number>() };

describe('streams to one address on any network', () => {
  it('are delivered where a walk over switches, VLANs and the router gets to the receiver that holds the address', () => {
    const seen = { delivered: 0, not: 0, routed: 0 };
    fc.assert(
      fc.property(randomRig({ switches: 6, links: 7, streams: 5, routed: true }), (rig) => {
        const { judge, plan } = modelOf(unicastPlan(rig));
        for (const taker of plan.receiverLegs) {
          const [, stream = '0', receiver = '0'] = taker.receiver.device.name.split('-');
          const own = rig.streams[Number(stream)];
          const from = rig.vlans[taker.index] ?? '';
          const to = taker.vlan?.name ?? '';
          const at = own?.at[taker.index] ?? 0;
          const end = own?.receivers[Number(receiver)]?.[taker.index] ?? 0;
          const gets = receiver === '0' && reaches(rig, NOTHING, at, from, end, to);
          if (taker.takes === undefined) continue;
          expect([taker.receiver.label, judge(taker.takes, taker) === DELIVERED]).toEqual([taker.receiver.label, gets]);
          seen[gets ? 'delivered' : 'not']++;
          if (gets && from !== to) seen.routed++;
        }
      }),
      { numRuns: 500 },
    );
    expect(Math.min(seen.delivered, seen.not)).toBeGreaterThan(200);
    expect(seen.routed).toBeGreaterThan(20);
  });

  it('load in a tree the links of the only way, each in its direction, and the ports at its ends', () => {
    let busy = 0;
    fc.assert(
      fc.property(randomRig({ switches: 6, links: 9, streams: 5, routed: true }), (any) => {
        const rig = reached(asTree(any));
        const { plan, network } = modelOf(unicastPlan(rig));
        const load = buildLoad(plan, network, () => ({ onLink: 1, onPort: 1 }));
        const links = new Map<string, number>();
        rig.streams.forEach((stream) => {
          for (let leg = 0; leg < stream.legs; leg++) {
            const from = rig.vlans[leg] ?? '';
            const to = leg === 0 ? (rig.vlans[stream.receiverVlan] ?? from) : from;
            for (const key of onlyWay(rig, stream.at[leg] ?? 0, from, stream.receivers[0]?.[leg] ?? 0, to))
              links.set(key, (links.get(key) ?? 0) + 1);
          }
        });
        const found = new Map<string, number>();
        for (const [link, { there, back }] of load.links) {
          if (there > 0) found.set(`${link.name ?? ''} there`, there);
          if (back > 0) found.set(`${link.name ?? ''} back`, back);
        }
        expect(Object.fromEntries(found)).toEqual(Object.fromEntries(links));
        for (const one of plan.interfaces) {
          const sends = one.device.name.startsWith('cam') ? 1 : 0;
          const gets = one.device.name.endsWith('-0') && !one.device.name.startsWith('cam') ? 1 : 0;
          const carried = one.port === undefined ? undefined : load.ports.get(one.port);
          expect([one.device.name, carried?.fromHost ?? 0, carried?.toHost ?? 0, carried?.flooded ?? 0]).toEqual([
            one.device.name,
            sends,
            gets,
            0,
          ]);
        }
        busy += links.size;
      }),
      { numRuns: 700 },
    );
    expect(busy).toBeGreaterThan(100);
  });

  it('load what carrying each of them by itself adds up to, flooded where the receiver never speaks', () => {
    let flooded = 0;
    fc.assert(
      fc.property(
        randomRig({ switches: 7, links: 9, streams: 5, routed: true }),
        fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
        (rig, silent) => {
          const { plan, network } = modelOf(unicastPlan(rig, (stream) => silent[stream] === true));
          const load = buildLoad(plan, network, ({ leg }) => {
            const rate = weight(leg.sender.label);
            return { onLink: rate, onPort: rate };
          });
          flooded += network.flows.filter(({ flood }) => flood !== undefined).length;
          expect(loadSums(plan, load)).toEqual(sumsOf(network.flows, ({ leg }) => weight(leg.sender.label)));
        },
      ),
      { numRuns: 300 },
    );
    expect(flooded).toBeGreaterThan(100);
  });

  it.each([false, true])('are taken by exactly the failures brute force finds, routed: %s', (routed) => {
    let taken = 0;
    fc.assert(
      fc.property(randomRig({ switches: 7, links: 10, streams: 4, routed }), (any) => {
        const rig = oneReceiverEach(any);
        const { failures } = modelOf(unicastPlan(rig));
        const names = (
          list: readonly { readonly receiver: { readonly device: { readonly name: string } } }[],
        ): string[] => list.map((one) => one.receiver.device.name).sort();
        const found = failures.ranked
          .filter(({ element }) => element.kind !== 'device' && element.kind !== 'interface')
          .map(({ element, lost, weakened }) => [
            `${element.kind} ${element.name}`,
            { lost: names(lost), weakened: names(weakened) },
          ]);
        taken += found.length;
        expect(Object.fromEntries(found)).toEqual(Object.fromEntries(bruteFailures(rig)));
      }),
      { numRuns: 250 },
    );
    expect(taken).toBeGreaterThan(200);
  });

  it('never fill what the cheap bounds say holds everything', () => {
    let held = 0;
    fc.assert(
      fc.property(
        randomRig({ switches: 5, links: 6, streams: 4, routed: true }),
        fc.constantFrom('5M', '20M', '100M'),
        fc.boolean(),
        (rig, rate, silent) => {
          const raw = unicastPlan(rig, () => silent);
          for (const link of raw.links) link['rate'] = rate;
          for (const one of raw.switches) for (const port of one.ports) port['rate'] = rate;
          for (const { senders = [] } of raw.devices)
            for (const sender of senders) (sender as unknown as Record<string, unknown>)['format'] = 'stereo';
          raw.formats = [
            { name: 'stereo', coding: 'st2110-30', channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: '1 ms' },
          ];
          const { headroom, load } = modelOf(raw);
          const limit = { '5M': 5e6, '20M': 2e7, '100M': 1e8 }[rate];
          if (headroom.linksHoldAll(() => 100)) {
            for (const { there, back } of load.links.values()) {
              if (there + back > 0) held++;
              expect(Math.max(there, back)).toBeLessThanOrEqual(limit * 1.0001);
            }
          }
          if (headroom.portsHoldAll(() => 100))
            for (const { toHost, fromHost } of load.ports.values())
              expect(Math.max(toHost, fromHost)).toBeLessThanOrEqual(limit * 1.0001);
        },
      ),
      { numRuns: 300 },
    );
    expect(held).toBeGreaterThan(50);
  });
});

function weight(label: string): number {
  return 1 + Number(label.split('/')[0]?.split('-')[1] ?? 0) * 3;
}

function oneReceiverEach(rig: RandomRig): RandomRig {
  return {
    ...rig,
    streams: rig.streams
      .filter(({ receivers }) => receivers.length > 0)
      .map((stream) => ({ ...stream, receivers: stream.receivers.slice(0, 1) })),
  };
}

/** Without the links that close a loop, whatever VLANs they carry. */
function asTree(rig: RandomRig): RandomRig {
  const part = rig.switches.map((_, index) => index);
  const links = rig.links.filter(({ a, b }) => {
    const [x, y] = [part[a], part[b]];
    if (x === y) return false;
    part.forEach((one, index) => {
      if (one === y) part[index] = x ?? index;
    });
    return true;
  });
  return { ...rig, links };
}

/** Streams whose every leg gets to the first receiver. */
function reached(rig: RandomRig): RandomRig {
  const one = oneReceiverEach(rig);
  return {
    ...one,
    streams: one.streams.filter((stream) =>
      Array.from({ length: stream.legs }, (_, leg) => leg).every((leg) => {
        const from = rig.vlans[leg] ?? '';
        const to = leg === 0 ? (rig.vlans[stream.receiverVlan] ?? from) : from;
        return reaches(rig, NOTHING, stream.at[leg] ?? 0, from, stream.receivers[0]?.[leg] ?? 0, to);
      }),
    ),
  };
}

/** The links of the only way in a tree, with their direction: to the router, switch 0, first where the VLANs differ. */
function onlyWay(rig: RandomRig, from: number, fromVlan: string, to: number, toVlan: string): readonly string[] {
  if (fromVlan !== toVlan)
    return [...onlyWay(rig, from, fromVlan, 0, fromVlan), ...onlyWay(rig, 0, toVlan, to, toVlan)];
  const walk = (at: number, came: number): readonly string[] | undefined => {
    if (at === to) return [];
    for (const [index, { a, b, vlans }] of rig.links.entries()) {
      const next = a === at ? b : b === at ? a : undefined;
      if (next === undefined || next === came || !vlans.includes(fromVlan)) continue;
      const rest = walk(next, at);
      if (rest !== undefined) return [`link-${index} ${a === at ? 'there' : 'back'}`, ...rest];
    }
    return undefined;
  };
  return walk(from, -1) ?? [];
}
