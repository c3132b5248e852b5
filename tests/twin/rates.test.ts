/** Computed rates against packets counted: ffmpeg sends RFC 4175 video and RFC 3190 sound, a kernel counts what comes. */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { streamRate } from '../../src/media/stream-rate.js';
import { parseFormat } from '../../src/media/parse-format.js';
import { skipped } from '../tools/outside.js';
import { Lab, LABS_AT_ONCE, sideBySide, whyNoLab } from './lab.js';

/** Name of the format, RTP packet size, and how ffmpeg makes `seconds` of it. */
interface Measured {
  readonly format: string;
  /** Video: largest UDP datagram. */
  readonly maxUdpOctets?: number;
  readonly seconds: number;
  readonly arguments: readonly string[];
}

const UDP_HEADER_OCTETS = 8;
const RTP_HEADER_OCTETS = 12;
/** Packets of 10 ms a frame, so that no packet is cut short at the end of one. */
const SOUND_FRAME_MS = 10;

function video(
  format: string,
  size: string,
  rate: number,
  depth: 8 | 10,
  maxUdpOctets: number,
  frames: number,
): Measured {
  const coding =
    depth === 8
      ? ['-pix_fmt', 'uyvy422', '-c:v', 'rawvideo']
      : ['-pix_fmt', 'yuv422p10le', '-c:v', 'bitpacked', '-strict', '-2'];
  return {
    format,
    maxUdpOctets,
    seconds: frames / rate,
    arguments: [
      '-f',
      'lavfi',
      '-i',
      `testsrc2=size=${size}:rate=${rate}`,
      '-frames:v',
      String(frames),
      ...coding,
      '-f',
      'rtp',
      `{url}${maxUdpOctets - UDP_HEADER_OCTETS}`,
    ],
  };
}

function sound(format: string, rateHz: number, channels: number, sampleOctets: 2 | 3, packetMs: number): Measured {
  const packetOctets = RTP_HEADER_OCTETS + (rateHz / 1000) * packetMs * channels * sampleOctets;
  return {
    format,
    seconds: 1,
    arguments: [
      '-f',
      'lavfi',
      '-i',
      `sine=sample_rate=${rateHz}:samples_per_frame=${(rateHz / 1000) * SOUND_FRAME_MS}:duration=1`,
      '-ac',
      String(channels),
      '-c:a',
      sampleOctets === 2 ? 'pcm_s16be' : 'pcm_s24be',
      '-f',
      'rtp',
      `{url}${packetOctets}`,
    ],
  };
}

const STREAMS: readonly Measured[] = [
  // Of shorter lines ffmpeg puts four pieces into a packet, one more than ST 2110-20 §6.2.1 allows.
  video('480x270p25 4:2:2 8 bit', '480x270', 25, 8, 1460, 25),
  video('720p50', '1280x720', 50, 10, 1460, 5),
  video('1080p50', '1920x1080', 50, 10, 1460, 2),
  video('1080p25 4:2:2 8 bit', '1920x1080', 25, 8, 1460, 2),
  video('1080p50', '1920x1080', 50, 10, 8960, 2),
  sound('L24 48 kHz 2 ch 1 ms', 48_000, 2, 3, 1),
  sound('L24 48 kHz 8 ch 1 ms', 48_000, 8, 3, 1),
  sound('L24 48 kHz 16 ch 125 us', 48_000, 16, 3, 0.125),
  sound('L24 96 kHz 4 ch 1 ms', 96_000, 4, 3, 1),
  sound('L16 48 kHz 2 ch 1 ms', 48_000, 2, 2, 1),
];

const COUNT = fileURLToPath(new URL('driver/count.py', import.meta.url));
const reason = whyNoLab('python3', 'ffmpeg');

describe(`streams of ffmpeg, counted${skipped(reason)}`, () => {
  let counted: readonly { readonly packets: number; readonly ipOctets: number }[] = [];
  beforeAll(async () => {
    if (reason !== undefined) return;
    counted = await sideBySide(STREAMS, LABS_AT_ONCE, async ({ arguments: words }) => {
      const input = JSON.stringify(words);
      const said = await Lab.with((lab) => lab.run('python3', ['-B', COUNT], { input, mostMs: 60_000 }));
      return JSON.parse(said) as (typeof counted)[number];
    });
  }, 300_000);

  it
    .skipIf(reason !== undefined)
    .each(STREAMS.map((one, index) => [one.format, one.maxUdpOctets ?? 'sound', one, index] as const))(
    '%s, %s',
    (_format, _limit, { format, maxUdpOctets, seconds }, index) => {
      const said = parseFormat(format);
      if ('problem' in said) throw new Error(said.problem);
      const { rate, missing } = streamRate(
        { ...said.format, ...(maxUdpOctets === undefined ? {} : { maxUdpOctets }) },
        { ...said.options, ...(maxUdpOctets === undefined ? {} : { generalPacking: 'fill' as const }) },
      );
      expect(missing).toEqual([]);
      expect({ packets: counted[index]?.packets, ipBits: (counted[index]?.ipOctets ?? 0) * 8 }).toEqual({
        packets: Math.round((rate?.packetsPerSecond ?? 0) * seconds),
        ipBits: Math.round((rate?.ipBps ?? 0) * seconds),
      });
    },
  );
});
