/** Formats as people say them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FORMATS_SAID } from '../../src/media/format-forms.js';
import { parseFormat, type SaidFormat } from '../../src/media/parse-format.js';
import { streamRate } from '../../src/media/stream-rate.js';

function said(text: string): SaidFormat {
  const result = parseFormat(text);
  if ('problem' in result) throw new Error(result.problem);
  return result;
}

function problem(text: string): string {
  const result = parseFormat(text);
  if (!('problem' in result)) throw new Error(`${text} was understood`);
  return result.problem;
}

describe('words', () => {
  it.each<[string, object]>([
    [
      '1080p50',
      {
        coding: 'st2110-20',
        width: 1920,
        height: 1080,
        scan: 'progressive',
        frameRate: [50, 1],
        sampling: 'YCbCr-4:2:2',
        depth: '10',
      },
    ],
    ['1080i59.94', { scan: 'interlaced', frameRate: [30000, 1001] }],
    ['1080i50', { scan: 'interlaced', frameRate: [25, 1] }],
    ['1080i25', { scan: 'interlaced', frameRate: [25, 1] }],
    ['1080i60000/1001', { frameRate: [30000, 1001] }],
    ['1080psf23.98', { scan: 'psf', frameRate: [24000, 1001] }],
    ['720p119.88', { width: 1280, frameRate: [120000, 1001] }],
    ['625i50', { width: 720, height: 576 }],
    ['525i59.94', { width: 720, height: 486 }],
    ['1920x1200p60 rgb 8', { width: 1920, height: 1200, sampling: 'RGB', depth: '8' }],
    ['2160p50 4:2:2 12', { width: 3840, depth: '12' }],
    ['12 bit ICtCp-4:4:4 2160P50', { width: 3840, depth: '12', sampling: 'ICtCp-4:4:4' }],
    ['1080p50 16f 4:4:4', { depth: '16f', sampling: 'YCbCr-4:4:4' }],
    ['1080p50 block', { packing: 'block' }],
    ['1080p50 maxudp=8960', { maxUdpOctets: 8960 }],
    ['1080p50 jpegxs 214M', { coding: 'st2110-22', rateBps: 214e6 }],
    ['1080p50 3bpp', { coding: 'st2110-22', rateBps: 320_580_000 }],
    ['2160p59.94 jxs 1.5 Gbit/s', { rateBps: 1.5e9 }],
    [
      'L24 8ch 125us',
      { coding: 'st2110-30', channels: 8, sampleBits: 24, packetTimeNs: 125_000, sampleRateHz: 48_000 },
    ],
    ['l24 8 ch 125 µs', { channels: 8, packetTimeNs: 125_000 }],
    ['L24 8ch 125μs', { packetTimeNs: 125_000 }],
    ['L16 2ch 1ms 48k', { sampleBits: 16, sampleRateHz: 48_000, packetTimeNs: 1_000_000 }],
    ['L16 stereo 44.1 kHz', { channels: 2, sampleRateHz: 44_100 }],
    ['L24 mono 96000', { channels: 1, sampleRateHz: 96_000 }],
    ['aes67 24bit 8ch 0.125ms', { coding: 'aes67', sampleBits: 24, packetTimeNs: 125_000 }],
    ['aes67 8ch', { sampleBits: 24 }],
    ['am824 2ch', { coding: 'st2110-31', channels: 2, sampleBits: undefined, packetTimeNs: 1_000_000 }],
    ['anc 1080i50', { coding: 'st2110-40', frameRate: [25, 1] }],
    ['2110-41 400k', { coding: 'st2110-41', rateBps: 400_000 }],
    ['ts 20M', { coding: 'mpeg2-ts', rateBps: 20e6 }],
    ['j2k 150 Mbit/s', { coding: 'jpeg2000', rateBps: 150e6 }],
    ['2022-6 1080i50', { coding: 'st2022-6' }],
    ['h264 1080p25 8M', { coding: 'h264', rateBps: 8e6 }],
    ['hevc 800k', { coding: 'h265', rateBps: 800_000 }],
  ])('%s', (text, facts) => {
    expect(said(text).format).toMatchObject(facts);
  });

  it('mean the same in any order, case and spacing', () => {
    const words = ['1080p50', 'jpegxs', '3bpp'];
    const wanted = said(words.join(' '));
    expect(said('3 BPP,  JPEGXS, 1080P50')).toEqual(wanted);
  });

  it('say what nobody said', () => {
    expect(said('1080p50').assumptions).toEqual(['sampling YCbCr-4:2:2', 'depth 10 bit']);
    expect(said('1080p50 4:2:2 10').assumptions).toEqual([]);
    expect(said('L24 8ch').assumptions).toEqual(['48 kHz', 'packet time 1 ms']);
    expect(said('aes67 8ch 1ms 48k').assumptions).toEqual(['24 bit']);
    expect(said('1080i25 4:2:2 10').assumptions.join()).toContain('counts frames');
    expect(said('1080p50 3bpp').assumptions.join()).toContain('b=AS:320580');
  });
});

describe('what is not understood', () => {
  it.each([
    ['', 'no format is given'],
    ['   ', 'no format is given'],
    ['1080p', '`1080p50`'],
    ['1081p50', '`1080p50`'],
    ['99p50', 'Write others as `1920x1200p50`'],
    ['0x0p50', 'from 1 to 32767'],
    ['40000x100p50', 'from 1 to 32767'],
    ['1080p0', '`1080p50`'],
    ['1080p50/0', '`1080p50`'],
    ['1080p99999', '`1080p50`'],
    ['1080p50 jpgxs 3bpp', '`jpegxs`'],
    ['1080q50', '`1080p50`'],
    ['L25 8ch', '`L24`'],
    ['L24 8chn', '`8ch`'],
    ['L24 8ch 125ums', '`125us`'],
    ['1080p50 4:2:3', '`4:2:'],
    ['h246 8M', '`h264`'],
    ['am284 2ch', '`am824`'],
    ['aes76 2ch', '`aes67`'],
    ['xylophone', 'no word of a format'],
    ['L24', '`L24 8ch`'],
    ['am824', '`am824 8ch`'],
    ['L24 0ch', 'nothing'],
    ['L24 1.5ch', 'whole number'],
    ['L24 5000ch', 'whole number up to 1024'],
    ['L24 2ch 24bit', 'leave 24 bit out'],
    ['aes67 12bit 2ch', '`L16` or `L24`'],
    ['L24 2ch 48k 96kHz', 'two sample rates'],
    ['L24 L16 2ch', 'the same thing twice'],
    ['1080p50 720p50', 'the same thing twice'],
    ['1080p50 3bpp jpegxs 200M', 'the same thing twice'],
    ['1080p50 jpegxs', '`1080p50 jpegxs 3bpp`'],
    ['jpegxs 3bpp', '`1080p50 jpegxs 3bpp`'],
    ['2022-6', '`2022-6 1080i50`'],
    ['anc', '`anc 1080i50`'],
    ['ts', '`ts 20M`'],
    ['h264', '`h264 8M`'],
    ['2110-41', '`2110-41 400k`'],
    ['20M', '`h264 8M`'],
    ['1080p50 8ch', 'says nothing about uncompressed video'],
    ['L24 8ch 1080p50', 'says nothing about ST 2110-30'],
    ['2022-6 1080i50 10', 'says nothing about SDI'],
    ['1080p50 block fill', 'leave `fill` out'],
    ['1080p50 maxudp=9000', '8960'],
    ['1080p50 general fill lines', 'the same thing twice'],
  ])('%s', (text, wanted) => {
    // Nearest words are written in lower case.
    expect(problem(text).toLowerCase()).toContain(wanted.toLowerCase());
  });
});

describe('the forms listed', () => {
  it.each(FORMATS_SAID.flatMap((form) => form.examples))('%s works', (example) => {
    const { format, options } = said(example);
    expect(streamRate(format, options).missing).toEqual([]);
  });
});

describe('any text', () => {
  const word = fc.constantFrom(
    '1080p50',
    '1080i59.94',
    '1x1p1',
    'jpegxs',
    '3bpp',
    '0bpp',
    '999999999bpp',
    '4:2:2',
    '4:2:0',
    '16',
    '16f',
    'L24',
    'am824',
    '8ch',
    '1024ch',
    '1ns',
    '125us',
    '9s',
    '48k',
    '1Hz',
    '8M',
    '999999999G',
    'ts',
    'anc',
    '2110-41',
    '2022-6',
    'block',
    'fill',
    'maxudp=1',
    'maxudp=8960',
    'key',
    'xyz',
    '\u202e',
    '-',
    '1e9',
    '__proto__',
    'constructor',
  );
  const text = fc.oneof(
    fc.array(word, { maxLength: 6 }).map((words) => words.join(' ')),
    fc.string({ maxLength: 40 }),
  );

  it('is a format or a problem, never a crash, and its rate is finite', () => {
    fc.assert(
      fc.property(text, (one) => {
        const result = parseFormat(one);
        if ('problem' in result) {
          expect(result.problem.length).toBeGreaterThan(10);
          return;
        }
        const { rate, missing } = streamRate(result.format, result.options);
        if (rate === undefined) expect(missing.length).toBeGreaterThan(0);
        else expect(Number.isFinite(rate.wireTaggedBps) && rate.wireTaggedBps > 0).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });
});
