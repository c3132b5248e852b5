/** Laws every rate obeys, whatever the format. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SAMPLINGS, pixelGroup } from '../../src/media/pixel-groups.js';
import { ratio } from '../../src/media/ratio.js';
import { streamRate } from '../../src/media/stream-rate.js';
import type { FormatFacts } from '../../src/media/format.js';
import type { RateOptions, StreamRate } from '../../src/media/types.js';

const NOTHING: FormatFacts = {
  name: undefined,
  essence: undefined,
  coding: undefined,
  width: undefined,
  height: undefined,
  frameRate: undefined,
  scan: undefined,
  sampling: undefined,
  depth: undefined,
  packing: undefined,
  channels: undefined,
  sampleRateHz: undefined,
  sampleBits: undefined,
  packetTimeNs: undefined,
  maxUdpOctets: undefined,
  rateBps: undefined,
};

const pairs = Object.keys(SAMPLINGS)
  .flatMap((sampling) => ['8', '10', '12', '16', '16f'].map((depth) => ({ sampling, depth })))
  .filter(({ sampling, depth }) => pixelGroup(sampling, depth) !== undefined);

const picture = fc
  .record({
    pair: fc.constantFrom(...pairs),
    width: fc.integer({ min: 16, max: 8192 }),
    height: fc.integer({ min: 2, max: 1200 }),
    frames: fc.integer({ min: 1, max: 120 }),
    denominator: fc.constantFrom(1, 1001),
    interlaced: fc.boolean(),
    maxUdpOctets: fc.constantFrom(undefined, 1460, 4000, 8960),
    packing: fc.constantFrom('general', 'block', undefined),
  })
  .map(({ pair, frames, denominator, interlaced, ...rest }): FormatFacts => ({
    ...NOTHING,
    ...pair,
    ...rest,
    coding: 'st2110-20',
    frameRate: denominator === 1 ? [frames, 1] : [frames * 1000, 1001],
    scan: interlaced && !pair.sampling.includes('4:2:0') ? 'interlaced' : 'progressive',
  }));

const sound = fc
  .record({
    coding: fc.constantFrom('st2110-30' as const, 'aes67' as const, 'st2110-31' as const),
    channels: fc.integer({ min: 1, max: 64 }),
    sampleRateHz: fc.constantFrom(44_100, 48_000, 88_200, 96_000),
    sampleBits: fc.constantFrom(16, 24),
    packetTimeNs: fc.constantFrom(125_000, 250_000, 333_333, 1_000_000, 4_000_000),
  })
  .map((facts): FormatFacts => ({ ...NOTHING, ...facts }));

const options = fc.record({ generalPacking: fc.constantFrom(undefined, 'lines' as const, 'fill' as const) });

function rateOf(format: FormatFacts, one: RateOptions = {}): StreamRate | undefined {
  return streamRate(format, one).rate;
}

describe('any picture or sound', () => {
  it('costs more at every layer down, and its packets hold its essence', () => {
    let seen = 0;
    fc.assert(
      fc.property(fc.oneof(picture, sound), options, (format, one) => {
        const rate = rateOf(format, one);
        if (rate === undefined) return;
        seen++;
        expect(rate.essenceBps).toBeLessThan(rate.ipBps);
        expect(rate.ipBps).toBeLessThan(rate.ethernetBps);
        expect(rate.ethernetBps).toBeLessThan(rate.wireBps);
        expect(rate.wireBps).toBeLessThan(rate.wireTaggedBps);
        expect(rate.packetsPerSecond * rate.largestIpOctets * 8).toBeGreaterThanOrEqual(rate.ipBps * (1 - 1e-12));
        expect(rate.packetsPerSecond * (rate.largestUdpOctets - 20) * 8).toBeGreaterThanOrEqual(rate.essenceBps);
        expect(rate.largestIpOctets).toBe(rate.largestUdpOctets + 20);
      }),
      { numRuns: 500 },
    );
    expect(seen).toBeGreaterThan(300);
  });
});

describe('any picture', () => {
  it('keeps to the limit of its datagrams', () => {
    fc.assert(
      fc.property(picture, options, (format, one) => {
        const rate = rateOf(format, one);
        expect(rate?.largestUdpOctets ?? 0).toBeLessThanOrEqual(rate?.udpLimitOctets ?? 0);
      }),
      { numRuns: 500 },
    );
  });

  it.each<['width' | 'height', number]>([
    ['width', 8],
    ['height', 2],
  ])('costs more with more %s', (side, step) => {
    fc.assert(
      fc.property(picture, options, fc.integer({ min: 1, max: 50 }), (format, one, steps) => {
        const rate = rateOf(format, one);
        const larger = rateOf({ ...format, [side]: (format[side] ?? 0) + step * steps }, one);
        if (rate === undefined || larger === undefined) return;
        expect(larger.essenceBps).toBeGreaterThan(rate.essenceBps);
        expect(larger.ipBps).toBeGreaterThan(rate.ipBps);
        expect(larger.wireBps).toBeGreaterThan(rate.wireBps);
      }),
      { numRuns: 500 },
    );
  });

  it('costs in proportion to its frames, to the bit', () => {
    fc.assert(
      fc.property(picture, options, fc.integer({ min: 2, max: 9 }), (format, one, times) => {
        const [numerator, denominator] = format.frameRate ?? [1, 1];
        const rate = rateOf(format, one);
        const faster = rateOf({ ...format, frameRate: [numerator * times, denominator] }, one);
        expect(faster?.exact.wireBps).toEqual(
          rate && ratio(rate.exact.wireBps.numerator * BigInt(times), rate.exact.wireBps.denominator),
        );
      }),
      { numRuns: 300 },
    );
  });

  it('at a rate over 1.001 costs exactly 1000/1001 as much', () => {
    fc.assert(
      fc.property(picture, options, (format, one) => {
        const [numerator, denominator] = format.frameRate ?? [1, 1];
        const rate = rateOf(format, one)?.exact.wireTaggedBps;
        const slower = rateOf({ ...format, frameRate: [numerator * 1000, denominator * 1001] }, one)?.exact
          .wireTaggedBps;
        expect(slower).toEqual(rate && ratio(rate.numerator * 1000n, rate.denominator * 1001n));
      }),
      { numRuns: 300 },
    );
  });

  it('filled never needs more packets than lines of their own', () => {
    fc.assert(
      fc.property(
        picture.map((format): FormatFacts => ({ ...format, packing: 'general' })),
        (format) => {
          const filled = rateOf(format, { generalPacking: 'fill' })?.packetsPerFrame ?? 0;
          expect(filled).toBeLessThanOrEqual(rateOf(format, { generalPacking: 'lines' })?.packetsPerFrame ?? 0);
          expect(filled).toBeGreaterThan(0);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('any sound', () => {
  it('costs more with more channels or shorter packets', () => {
    fc.assert(
      fc.property(sound, fc.integer({ min: 1, max: 64 }), (format, more) => {
        const rate = rateOf(format);
        const wider = rateOf({ ...format, channels: (format.channels ?? 0) + more });
        const quicker = rateOf({ ...format, packetTimeNs: 125_000 });
        expect(wider?.wireBps).toBeGreaterThan(rate?.wireBps ?? Infinity);
        expect(quicker?.wireBps).toBeGreaterThanOrEqual(rate?.wireBps ?? Infinity);
        expect(quicker?.exact.essenceBps).toEqual(rate?.exact.essenceBps);
      }),
      { numRuns: 300 },
    );
  });
});

describe('any stated rate', () => {
  const codings = fc.constantFrom(
    'st2110-22' as const,
    'st2110-41' as const,
    'mpeg2-ts' as const,
    'jpeg2000' as const,
    'h264' as const,
    'h265' as const,
    'mjpeg' as const,
    'other' as const,
  );

  it('is the rate of whole IP packets, and more costs more', () => {
    fc.assert(
      fc.property(
        codings,
        fc.integer({ min: 1_000_000, max: 5_000_000_000 }),
        fc.integer({ min: 1, max: 1e9 }),
        (coding, rateBps, more) => {
          const format: FormatFacts = { ...NOTHING, coding, rateBps, frameRate: [50, 1], scan: 'progressive' };
          const rate = rateOf(format);
          const larger = rateOf({ ...format, rateBps: rateBps + more });
          expect(rate?.exact.ipBps).toEqual(ratio(rateBps));
          expect(larger?.wireBps).toBeGreaterThan(rate?.wireBps ?? Infinity);
          expect(rate?.essenceBps).toBeLessThan(rateBps);
        },
      ),
      { numRuns: 300 },
    );
  });
});
