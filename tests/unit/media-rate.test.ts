/**
 * What a format must state for its rate to be known, and what the rate says of its own standing.
 *
 * Longer than a file should be: tables of published values and nothing else, which are read side by side.
 */
import { describe, expect, it } from 'vitest';
import { ancillaryPacketOctets } from '../../src/media/codings/st2110-40.js';
import { packBlocks, packByLine, packFull } from '../../src/media/packing.js';
import { samplesPerPacket } from '../../src/media/packet-time.js';
import { ratesOf } from '../../src/media/packet.js';
import { HEADROOM_PERCENT, streamsPerPort } from '../../src/media/port-fit.js';
import { divide, ratio, stated, toNumber } from '../../src/media/ratio.js';
import { streamRate } from '../../src/media/stream-rate.js';
import type { FormatFacts } from '../../src/media/format.js';
import type { RateOptions, StreamRate } from '../../src/media/types.js';
import { loadPlan } from '../../src/plan/load.js';
import { CONSTANT, growth, LINEAR } from '../tools/growth.js';

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
const PICTURE: FormatFacts = {
  ...NOTHING,
  coding: 'st2110-20',
  width: 1920,
  height: 1080,
  frameRate: [50, 1],
  scan: 'progressive',
  sampling: 'YCbCr-4:2:2',
  depth: '10',
};
const SOUND: FormatFacts = {
  ...NOTHING,
  coding: 'st2110-30',
  channels: 8,
  sampleRateHz: 48_000,
  sampleBits: 24,
  packetTimeNs: 125_000,
};

function rateOf(format: FormatFacts, options: RateOptions = {}): StreamRate {
  const { rate, missing } = streamRate(format, options);
  if (rate === undefined) throw new Error(missing.join());
  return rate;
}

describe('missing facts', () => {
  it.each<[string, FormatFacts, readonly string[]]>([
    ['no coding', { ...PICTURE, coding: undefined }, ['coding']],
    ['an empty picture', { ...NOTHING, coding: 'st2110-20' }, ['width', 'height', 'frame rate', 'sampling', 'depth']],
    ['a picture without depth', { ...PICTURE, depth: undefined }, ['depth']],
    ['a frame rate of zero', { ...PICTURE, frameRate: [0, 1] }, ['frame rate']],
    ['a frame rate over zero', { ...PICTURE, frameRate: [50, 0] }, ['frame rate']],
    ['an endless frame rate', { ...PICTURE, frameRate: [Infinity, 1] }, ['frame rate']],
    ['a frame rate that is no number', { ...PICTURE, frameRate: [Number.NaN, 1] }, ['frame rate']],
    ['JPEG XS without a rate', { ...PICTURE, coding: 'st2110-22' }, ['rate']],
    [
      'sound without anything',
      { ...NOTHING, coding: 'aes67' },
      ['channels', 'sample rate', 'sample size of 16 or 24 bit', 'packet time'],
    ],
    ['sound of 20 bit', { ...SOUND, sampleBits: 20 }, ['sample size of 16 or 24 bit']],
    ['AM824 without packet time', { ...SOUND, coding: 'st2110-31', packetTimeNs: undefined }, ['packet time']],
    ['ancillary data without frame rate', { ...NOTHING, coding: 'st2110-40', rateBps: 1e6 }, ['frame rate']],
    ['metadata without rate', { ...NOTHING, coding: 'st2110-41' }, ['rate']],
    ['SDI without picture', { ...NOTHING, coding: 'st2022-6' }, ['height', 'frame rate']],
    ['a transport stream without rate', { ...NOTHING, coding: 'mpeg2-ts' }, ['rate']],
    ['an endless rate', { ...NOTHING, coding: 'h264', rateBps: Infinity }, ['rate']],
    ['another coding without rate', { ...NOTHING, coding: 'other' }, ['rate']],
  ])('%s', (_, format, missing) => {
    expect(streamRate(format)).toEqual({ rate: undefined, missing });
  });

  it.each<[string, FormatFacts, string]>([
    ['a sampling nobody has', { ...PICTURE, sampling: 'YUV' }, 'sampling of ST 2110-20'],
    ['a depth the sampling lacks', { ...PICTURE, sampling: 'XYZ', depth: '8' }, 'a depth that XYZ has'],
    ['4:2:0 of 16 bit', { ...PICTURE, sampling: 'YCbCr-4:2:0', depth: '16' }, 'a depth that YCbCr-4:2:0 has'],
    ['interlaced 4:2:0', { ...PICTURE, sampling: 'YCbCr-4:2:0', scan: 'interlaced' }, 'a progressive scan'],
    ['segmented 4:2:0', { ...PICTURE, sampling: 'YCbCr-4:2:0', scan: 'psf' }, 'a progressive scan'],
    ['4:2:2 of 16 bit in blocks', { ...PICTURE, depth: '16', packing: 'block' }, 'general packing'],
    ['lines too short for blocks', { ...PICTURE, width: 16, packing: 'block' }, 'general packing'],
    ['a datagram too small', { ...PICTURE, maxUdpOctets: 30 }, 'a largest datagram'],
    ['no whole sample', { ...SOUND, packetTimeNs: 1000 }, 'at least one sample'],
    ['SDI above 3G', { ...PICTURE, coding: 'st2022-6', height: 2160 }, 'SD, HD or 3G'],
    ['SDI at 100 frames', { ...PICTURE, coding: 'st2022-6', frameRate: [100, 1] }, 'SD, HD or 3G'],
    ['JPEG XS below its headers', { ...PICTURE, coding: 'st2110-22', rateBps: 10_000 }, 'above that of the headers'],
    [
      'ancillary data below its headers',
      { ...NOTHING, coding: 'st2110-40', frameRate: [50, 1], rateBps: 1000 },
      'above that of empty packets',
    ],
    ['metadata below its headers', { ...NOTHING, coding: 'st2110-41', rateBps: 100 }, 'above that of empty packets'],
  ])('%s', (_, format, said) => {
    const { rate, missing } = streamRate(format);
    expect(rate).toBeUndefined();
    expect(missing.join()).toContain(said);
  });
});

describe('what is taken as so', () => {
  it('a missing scan is progressive, said aloud', () => {
    const silent = rateOf({ ...PICTURE, scan: undefined });
    expect(silent.assumptions).toContain('the scan is not stated; taken as progressive');
    expect(silent.wireBps).toBe(rateOf(PICTURE).wireBps);
    expect(rateOf(PICTURE).assumptions.join()).not.toContain('scan');
  });

  it('general packing goes by line under the standard limit, filled under a larger one, as asked otherwise', () => {
    expect(rateOf(PICTURE).packetsPerFrame).toBe(4320);
    expect(rateOf(PICTURE).assumptions.join()).toContain('splits every line');
    expect(rateOf(PICTURE, { generalPacking: 'fill' }).packetsPerFrame).toBe(3629);
    const long = { ...PICTURE, maxUdpOctets: 8960 };
    expect(rateOf(long)).toMatchObject({ packetsPerFrame: 582, udpLimitOctets: 8960 });
    expect(rateOf(long).largestUdpOctets).toBeGreaterThan(1460);
    expect(rateOf(long, { generalPacking: 'lines' }).packetsPerFrame).toBe(1080);
  });

  it('block packing leaves out a larger limit (ST 2110-20 §6.3.3)', () => {
    const block = rateOf({ ...PICTURE, packing: 'block', maxUdpOctets: 8960 });
    expect(block).toMatchObject({
      packetsPerFrame: 4115,
      udpLimitOctets: 1460,
      largestUdpOctets: 8 + 12 + 2 + 2 * 6 + 1260,
    });
    expect(block.assumptions.join()).toContain('left out');
  });

  it('16f costs what 16 does', () => {
    expect(rateOf({ ...PICTURE, depth: '16f' }).wireBps).toBe(rateOf({ ...PICTURE, depth: '16' }).wireBps);
  });

  it('samplings are found however their letters are cased', () => {
    expect(rateOf({ ...PICTURE, sampling: 'ycbcr-4:2:2' }).wireBps).toBe(rateOf(PICTURE).wireBps);
  });

  it('an odd line goes to the first field', () => {
    const odd = rateOf({ ...PICTURE, height: 487, width: 720, scan: 'interlaced', frameRate: [30000, 1001] });
    expect(odd.packetsPerFrame).toBe(2 * 487);
  });

  it('estimates say so, computed rates do not', () => {
    const basis = (coding: FormatFacts['coding']): string =>
      rateOf({
        ...PICTURE,
        channels: 8,
        sampleRateHz: 48_000,
        sampleBits: 24,
        packetTimeNs: 125_000,
        coding,
        rateBps: 1e8,
      }).basis;
    expect((['st2110-20', 'st2110-22', 'st2110-30', 'aes67', 'st2110-31', 'st2022-6'] as const).map(basis)).toEqual(
      Array(6).fill('computed'),
    );
    expect(
      (['st2110-40', 'st2110-41', 'mpeg2-ts', 'jpeg2000', 'h264', 'h265', 'mjpeg', 'other'] as const).map(basis),
    ).toEqual(Array(8).fill('estimated'));
  });

  it('an odd number of AES3 subframes is remarked', () => {
    expect(rateOf({ ...SOUND, coding: 'st2110-31', channels: 3 }).assumptions.join()).toContain('odd');
    expect(rateOf({ ...SOUND, coding: 'st2110-31', channels: 4 }).assumptions).toEqual([]);
  });
});

describe('stated rates', () => {
  const coded: FormatFacts = { ...NOTHING, coding: 'h264', rateBps: 8e6 };

  it('count whole IP packets in a plan, the stream itself where a person says so', () => {
    expect(rateOf(coded).ipBps).toBe(8e6);
    expect(rateOf(coded, { statedRateCounts: 'stream' }).essenceBps).toBe(8e6);
    expect(rateOf({ ...coded, coding: 'mpeg2-ts' }).ipBps).toBe(8e6);
    expect(rateOf({ ...coded, coding: 'mpeg2-ts' }, { statedRateCounts: 'stream' }).essenceBps).toBe(8e6);
  });

  it('of ancillary data spread over as few packets as hold them', () => {
    const anc: FormatFacts = { ...NOTHING, coding: 'st2110-40', frameRate: [25, 1], scan: 'interlaced' };
    expect(rateOf({ ...anc, rateBps: 1480 * 8 * 50 })).toMatchObject({ packetsPerFrame: 2, largestUdpOctets: 1460 });
    expect(rateOf({ ...anc, rateBps: 1480 * 8 * 50 + 1 })).toMatchObject({
      packetsPerFrame: 4,
      ipBps: 1480 * 8 * 50 + 1,
    });
  });

  it('of metadata never fall below two packets a second (ST 2110-41: one in 500 ms)', () => {
    expect(rateOf({ ...NOTHING, coding: 'st2110-41', rateBps: 1600 })).toMatchObject({
      packetsPerSecond: 2,
      largestIpOctets: 100,
    });
    expect(rateOf({ ...NOTHING, coding: 'st2110-41', rateBps: 1480 * 8 * 5 }).packetsPerSecond).toBe(5);
  });

  it('of JPEG XS obey a larger datagram', () => {
    const xs: FormatFacts = { ...PICTURE, coding: 'st2110-22', rateBps: 300e6 };
    expect(rateOf({ ...xs, maxUdpOctets: 8960 }).packetsPerFrame).toBe(Math.ceil(300e6 / 50 / 8 / 8980));
    expect(rateOf({ ...xs, rateBps: 100_000 })).toMatchObject({
      packetsPerFrame: 1,
      largestIpOctets: 250,
      largestUdpOctets: 230,
    });
  });
});

describe('packet time', () => {
  // AES67 §7.2, ST 2110-31: rounded times as descriptions write them.
  it.each([
    [125_000, 48_000, 6],
    [120_000, 48_000, 6],
    [80_000, 48_000, 4],
    [333_000, 48_000, 16],
    [330_000, 48_000, 16],
    [1_000_000, 96_000, 96],
    [125_000, 96_000, 12],
    [140_000, 44_100, 6],
    [90_000, 44_100, 4],
    [1_090_000, 44_100, 48],
    [1_088_435, 44_100, 48],
    [4_000_000, 48_000, 192],
  ])('%i ns at %i Hz is %i samples, nothing assumed', (timeNs, rateHz, samples) => {
    expect(samplesPerPacket(ratio(timeNs), ratio(rateHz))).toEqual({ samples, assumptions: [] });
  });

  it.each([
    [1_000_000, 44_100, 48],
    [250_000, 44_100, 12],
    [333_000, 44_100, 16],
    [4_000_000, 44_100, 192],
    [1_000_000, 88_200, 96],
  ])('%i ns at %i Hz names the packet of %i samples', (timeNs, rateHz, samples) => {
    const found = samplesPerPacket(ratio(timeNs), ratio(rateHz));
    expect(found.samples).toBe(samples);
    expect(found.assumptions.join()).toContain('names a packet');
  });

  it('a time outside the lists is rounded, and said to be outside', () => {
    const found = samplesPerPacket(ratio(2_000_000), ratio(48_000));
    expect(found.samples).toBe(96);
    expect(found.assumptions.join()).toContain('none of the counts');
  });

  it('at a rate AES67 does not have, a time is a time and no name', () => {
    expect(samplesPerPacket(ratio(1_000_000), ratio(32_000)).samples).toBe(32);
  });

  it("a leg's own packet time counts before its format's", () => {
    expect(rateOf(SOUND, { packetTimeNs: 1_000_000 }).packetsPerSecond).toBe(1000);
    expect(rateOf(SOUND).packetsPerSecond).toBe(8000);
  });
});

describe('packing', () => {
  const content = { lines: 4, groupsPerLine: 100, groupOctets: 5 };

  it('never splits a pixel group nor leaves a line', () => {
    // 10 groups a packet and segment: 8 + 12 + 2 + 6 + 50.
    expect(packByLine(content, 78)).toEqual({ packets: 40, segments: 40, largestUdpOctets: 78 });
    expect(packByLine(content, 77)).toMatchObject({ packets: 4 * Math.ceil(100 / 9) });
    expect(packByLine(content, 32)).toBeUndefined();
    expect(packFull(content, 32)).toBeUndefined();
  });

  it('fills packets over lines with at most three segments', () => {
    expect(packFull(content, 1460)).toEqual({ packets: 2, segments: 5, largestUdpOctets: 8 + 12 + 2 + 3 * 6 + 1420 });
    expect(packFull(content, 8960)).toMatchObject({ packets: 2, segments: 4 });
    expect(packFull(content, 8960, 4)).toMatchObject({ packets: 1, segments: 4 });
  });

  it('counts a further segment for every line that ends inside a block packet', () => {
    // 4 lines of 1260 octets: every line ends with its packet. 4 of 840: packets end at 1260, 2520, 3360.
    expect(packBlocks({ lines: 4, groupsPerLine: 252, groupOctets: 5 })).toMatchObject({
      packets: 4,
      segments: 4,
      largestUdpOctets: 1288,
    });
    expect(packBlocks({ lines: 4, groupsPerLine: 168, groupOctets: 5 })).toMatchObject({
      packets: 3,
      segments: 5,
      largestUdpOctets: 1294,
    });
  });
});

describe('arithmetic', () => {
  it('1000/1001 rates are exact: 1001 seconds of 1080p59.94 are 60,000 frames to the bit', () => {
    const { exact } = rateOf({ ...PICTURE, frameRate: [60000, 1001] });
    expect(exact.packetsPerSecond).toEqual(ratio(4320 * 60000, 1001));
    expect(exact.essenceBps).toEqual(ratio(1920n * 1080n * 20n * 60000n, 1001));
    const wireOctets = 1920 * 1080 * 2.5 + 4320 * (20 + 8 + 12 + 2 + 6 + 18 + 20);
    expect(exact.wireBps).toEqual(ratio(BigInt(wireOctets) * 8n * 60000n, 1001));
  });

  it('the numbers are the nearest to the fractions', () => {
    expect(toNumber(ratio(1, 3))).toBe(1 / 3);
    expect(toNumber(ratio(2n ** 60n, 1))).toBe(2 ** 60);
    expect(toNumber(divide(ratio(10 ** 15), 7))).toBe(10 ** 15 / 7);
  });

  it('takes no number as stated that is none', () => {
    for (const value of [undefined, 0, -1, Number.NaN, Infinity, 1e16, 1e-9]) expect(stated(value)).toBeUndefined();
    expect(stated(59.94)).toEqual(ratio(5994, 100));
  });

  it('pads frames below 64 octets (IEEE 802.3, from memory)', () => {
    const rates = ratesOf(ratio(1), ratio(0), ratio(40 * 8));
    expect([rates.ipBps, rates.ethernetBps, rates.wireBps].map(toNumber)).toEqual([320, 512, 672]);
  });

  it('ANC packets are whole 32-bit words (RFC 8331 §2)', () => {
    expect([0, 8, 16, 32, 49, 73, 85, 255].map(ancillaryPacketOctets)).toEqual([12, 20, 32, 52, 72, 104, 116, 328]);
  });
});

describe('ports', () => {
  it('carry whole streams only, the last one exactly full', () => {
    const rate = rateOf({ ...SOUND, packetTimeNs: 1_000_000 });
    expect(streamsPerPort(rate, rate.wireTaggedBps * 7, 0)).toBe(7);
    expect(streamsPerPort(rate, rate.wireTaggedBps * 7 - 1, 0)).toBe(6);
    expect(streamsPerPort(rate, 1e9, 99.9)).toBe(0);
  });

  it('keep a tenth free unless told otherwise', () => {
    const rate = rateOf(PICTURE);
    expect(HEADROOM_PERCENT).toBe(10);
    expect(streamsPerPort(rate, 25e9)).toBe(streamsPerPort(rate, 25e9, 10));
    expect(streamsPerPort(rate, 25e9, 0)).toBe(11);
  });
});

describe('formats of a plan', () => {
  it('keep their packing', () => {
    const text =
      "formats:\n  - {name: a, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, scan: progressive, sampling: 'YCbCr-4:2:2', depth: 10, packing: block}\n";
    const { plan } = loadPlan([{ name: 'plan.yaml', text }]);
    const [format] = plan.formats;
    expect(format?.packing).toBe('block');
    expect(format === undefined ? undefined : rateOf(format).packetsPerFrame).toBe(4115);
  });

  it('take no longer the larger the picture, and no longer the more there are', () => {
    const rates = (widths: readonly number[]): void => {
      for (const width of widths) expect(rateOf({ ...PICTURE, width, height: width }).wireBps > 0).toBe(true);
    };
    const large = (size: number): readonly number[] => Array.from({ length: 1_000 }, (_, index) => size + index * 2);
    expect(growth(16_000, large, rates, CONSTANT)).toBeLessThan(CONSTANT);
    const many = (count: number): readonly number[] =>
      Array.from({ length: count }, (_, index) => 1920 + (index % 100) * 2);
    expect(growth(20_000, many, rates)).toBeLessThan(LINEAR);
  });
});
