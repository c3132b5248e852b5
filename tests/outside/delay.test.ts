/** Limits and durations of the delay model against the documents that publish them. */
import { describe, expect, it } from 'vitest';
import {
  ACCEPTABLE,
  CONVERSATION_NS,
  DETECTABLE,
  LEAST_BUFFER_PACKETS,
  OUTPUT,
  outside,
  PLANNING_LIMIT_NS,
  PROPAGATION_NS_PER_M,
} from '../../src/model/delay/limits.js';
import { packingOf } from '../../src/model/delay/packing.js';
import { linkDelayNs } from '../../src/model/delay/path.js';
import { modelOf } from '../tools/network-plans.js';

const MS = 1e6;

describe('lip sync limits', () => {
  it.each([
    // ITU-R BT.1359-1 (1998), considering g: detectability about +45 ms to -125 ms.
    ['detectability of BT.1359-1', DETECTABLE, 45, 125],
    // ITU-R BT.1359-1, recommends 2: +90 ms to -185 ms over the whole way.
    ['acceptability of BT.1359-1', ACCEPTABLE, 90, 185],
    // EBU R 37: +40 ms to -60 ms at an output (numbers from a secondary table).
    ['outputs of EBU R 37', OUTPUT, 40, 60],
  ])('%s', (_, limit, earlyMs, lateMs) => {
    expect([outside(limit, earlyMs * MS), outside(limit, -lateMs * MS)]).toEqual([false, false]);
    expect([outside(limit, earlyMs * MS + 1), outside(limit, -lateMs * MS - 1)]).toEqual([true, true]);
  });
});

describe('speech', () => {
  it('keeps the limits of ITU-T G.114: 150 ms, and 400 ms for planning', () => {
    expect([CONVERSATION_NS, PLANNING_LIMIT_NS]).toEqual([150 * MS, 400 * MS]);
  });
});

describe('propagation', () => {
  it('is 5 µs a kilometre (ITU-T G.114 Annex A, from memory)', () => {
    for (const [km, us] of [
      [10, 50],
      [100, 500],
      [1000, 5000],
    ] as const)
      expect(km * 1000 * PROPAGATION_NS_PER_M).toBe(us * 1000);
  });

  it('is not below light in fibre of group index 1.468, and at most 3 % above', () => {
    const fibre = 1.468 / 299_792_458;
    expect(PROPAGATION_NS_PER_M * 1e-9).toBeGreaterThanOrEqual(fibre);
    expect(PROPAGATION_NS_PER_M * 1e-9).toBeLessThan(fibre * 1.03);
  });

  it('is not more for copper than the 570 ns in 100 m that IEEE 802.3 allows (from memory)', () => {
    expect(100 * PROPAGATION_NS_PER_M).toBeLessThanOrEqual(570);
  });

  it('gives way to a stated delay', () => {
    const { plan } = modelOf(
      'switches: [{name: a}, {name: b}]\nlinks: [{ends: [a/1, b/1], length: 1000 km}, {ends: [a/2, b/2], length: 1000 km, delay: 18 ms}, {ends: [a/3, b/3]}]',
    );
    expect(plan.links.map(linkDelayNs)).toEqual([5 * MS, 18 * MS, undefined]);
  });
});

describe('packets', () => {
  it.each([
    // ST 2110-21 default offset: 43/1125 of a frame for 1080 lines and more, 28/750 below; interlaced 22/1125, 26/625, 20/525.
    ['width: 1920, height: 1080, frameRate: 50, scan: progressive', 764_444],
    ['width: 1920, height: 1080, frameRate: 60000/1001, scan: progressive', 637_674],
    ['width: 1280, height: 720, frameRate: 50, scan: progressive', 746_667],
    ['width: 1920, height: 1080, frameRate: 25, scan: interlaced', 782_222],
    ['width: 720, height: 576, frameRate: 25, scan: interlaced', 1_664_000],
    ['width: 720, height: 486, frameRate: 30000/1001, scan: interlaced', 1_271_111],
  ])('pictures of %s', (format, ns) => {
    const { plan } = modelOf(
      `devices: [{name: cam, senders: [{name: video, format: {coding: st2110-20, ${format}}, legs: [{group: 239.192.10.1}]}]}]`,
    );
    expect(plan.senders.map(packingOf)).toEqual([{ ns, from: 'transmission offset' }]);
  });

  it.each([
    // AES67-2018 §7.2: 125 µs, 250 µs, 333 µs, 1 ms, 4 ms; 1 ms is the one every device has.
    ['packetTime: 125 us', 125_000, 'packet time'],
    ['packetTime: 4 ms', 4_000_000, 'packet time'],
    ['sampleBits: 24', 1_000_000, 'usual packet time'],
  ])('sound of %s', (format, ns, from) => {
    const { plan } = modelOf(
      `devices: [{name: box, senders: [{name: sound, format: {coding: aes67, ${format}}, legs: [{group: 239.192.20.1}]}]}]`,
    );
    expect(plan.senders.map(packingOf)).toEqual([{ ns, from }]);
  });

  it('are buffered by three (AES67-2018)', () => {
    expect(LEAST_BUFFER_PACKETS).toBe(3);
  });
});
