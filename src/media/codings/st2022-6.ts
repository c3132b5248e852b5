/** ST 2022-6: a whole SDI signal, blanking and all. */
import { BITS, IP_OCTETS, ratesPerPeriod, RTP_UDP_IP_OCTETS, type Rates } from '../packet.js';
import { frameRateOf, scanAssumptions } from '../picture.js';
import { ceiling, divide, multiply, ratio, toNumber, type Ratio } from '../ratio.js';
import { pictureAssumptions, pictureFormat, type SaidEssence, type SaidFacts, type SayingProblem } from '../said.js';
import { absent, known, lacking, type EssenceFacts, type RateResult } from '../types.js';
import { defineCoding } from './coding.js';

export const sdiOverIp = defineCoding({
  name: 'st2022-6',
  essence: 'video',
  comparedAs: 'st2022-6',
  payloadTypes: { dynamicOnly: true },
  rate: sdiOverIpRate,
  sdp: { encodings: ['smpte2022-6'], states: ['packet time or frame rate'] },
  said: {
    title: 'SDI over IP',
    write: '`2022-6 1080i50`',
    words: ['st2022-6', '2022-6'],
    takes: ['picture'],
    form: { title: 'SDI over IP', examples: ['2022-6 1080i50'], more: 'SD, HD and 3G' },
    read: readSdi,
  },
});

/** Octets of the SDI signal in every packet; the last of a frame is padded (ST 2022-6). */
export const MEDIA_OCTETS = 1376;
/** Payload header without the clock-frequency word (ST 2022-6). */
export const MEDIA_HEADER_OCTETS = 8;
/** With that word (ST 2022-6). */
export const LONG_MEDIA_HEADER_OCTETS = 12;

/** Bit rate of the SDI for a signal; undefined above 3G, which one ST 2022-6 stream does not carry (from memory). */
export function sdiRateBps(height: number, frameRate: Ratio): Ratio | undefined {
  const framesPerSecond = toNumber(frameRate);
  if (height <= MOST_SD_LINES) return framesPerSecond <= MOST_SLOW_FRAMES ? ratio(SD_BPS) : undefined;
  if (height > MOST_HD_LINES || framesPerSecond > MOST_FRAMES) return undefined;
  const base = height > MOST_720_LINES && framesPerSecond > MOST_SLOW_FRAMES ? SDI_3G_BPS : SDI_HD_BPS;
  return frameRate.denominator === 1001n ? ratio(base * 1000, 1001) : ratio(base);
}

/** Rate of a ST 2022-6 stream. */
function sdiOverIpRate(format: EssenceFacts): RateResult {
  const { height } = format;
  const frameRate = frameRateOf(format);
  if (height === undefined || frameRate === undefined) return lacking(...absent({ height, 'frame rate': frameRate }));
  const sdi = sdiRateBps(height, frameRate);
  if (sdi === undefined) return lacking('a signal of SD, HD or 3G SDI; others take several streams');
  const framePackets = packetsPerFrame(sdi, frameRate);
  const ipOctets = MEDIA_OCTETS + MEDIA_HEADER_OCTETS + RTP_UDP_IP_OCTETS;
  return known(sdiOverIpRates(sdi, frameRate, MEDIA_HEADER_OCTETS), {
    codingNote: `ST 2022-6, SDI at ${(toNumber(sdi) / 1e6).toFixed(3)} Mbit/s`,
    largestUdpOctets: ipOctets - IP_OCTETS,
    largestIpOctets: ipOctets,
    udpLimitOctets: undefined,
    packetsPerFrame: framePackets,
    basis: 'computed',
    assumptions: [
      ...scanAssumptions(format),
      'payload header of 8 octets; a sender that adds the clock-frequency word sends 4 octets more in every packet',
    ],
  });
}

/** Rates of an SDI signal in packets with the short or the long payload header. */
export function sdiOverIpRates(sdi: Ratio, frameRate: Ratio, headerOctets: number): Rates<Ratio> {
  const packets = packetsPerFrame(sdi, frameRate);
  return ratesPerPeriod(frameRate, {
    packets,
    essenceOctets: divide(sdi, multiply(frameRate, BITS)),
    ipOctets: packets * (MEDIA_OCTETS + headerOctets + RTP_UDP_IP_OCTETS),
  });
}

/** ST 259 level C, from memory. */
const SD_BPS = 270_000_000;
/** ST 292-1; the figure also in RFC 3497. */
const SDI_HD_BPS = 1_485_000_000;
/** ST 424, from memory. */
const SDI_3G_BPS = 2_970_000_000;
const MOST_SD_LINES = 576;
const MOST_720_LINES = 720;
const MOST_HD_LINES = 1080;
const MOST_SLOW_FRAMES = 30;
const MOST_FRAMES = 60;

function packetsPerFrame(sdi: Ratio, frameRate: Ratio): number {
  return ceiling(divide(sdi, multiply(frameRate, BITS * MEDIA_OCTETS)));
}

function readSdi({ picture }: Partial<SaidFacts>): SaidEssence | SayingProblem {
  if (picture === undefined) return { problem: 'an SDI signal has a picture; write `2022-6 1080i50`' };
  return { format: pictureFormat(picture), options: {}, assumptions: pictureAssumptions(picture) };
}
