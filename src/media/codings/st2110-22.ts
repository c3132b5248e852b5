/** ST 2110-22 with JPEG XS: a constant number of packets in every frame (ST 2110-22 §5.3, RFC 9134 §4.1). */
import {
  BITS,
  IP_OCTETS,
  ratesOf,
  ratesPerPeriod,
  RTP_UDP_IP_OCTETS,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
  type Rates,
} from '../packet.js';
import { frameRateOf, partCount, scanAssumptions } from '../picture.js';
import { add, ceiling, divide, multiply, ratio, stated, type Ratio } from '../ratio.js';
import {
  pictureAssumptions,
  pictureFormat,
  RATE,
  rateOf,
  type SaidEssence,
  type SaidFacts,
  type SayingProblem,
} from '../said.js';
import { absent, known, lacking, type EssenceFacts, type RateResult } from '../types.js';
import { defineCoding } from './coding.js';

export const jpegXs = defineCoding({
  name: 'st2110-22',
  essence: 'video',
  comparedAs: 'st2110-22',
  payloadTypes: { dynamicOnly: true },
  rate: jpegXsRate,
  // ST 2110-22 §7.3 requires b=AS and says what it counts.
  sdp: { encodings: ['jxsv'], states: ['picture', 'exact frame rate', 'frame rate', 'rate'] },
  said: {
    title: 'JPEG XS',
    write: '`1080p50 jpegxs 3bpp`',
    words: ['st2110-22', '2110-22', 'jpegxs', 'jpeg-xs', 'jxs', 'jxsv'],
    takes: ['picture', 'sampling', 'depth', 'bitsPerPixel', ...RATE],
    isMeantBy: ({ picture, sampleBits, bitsPerPixel }) =>
      picture !== undefined && sampleBits === undefined && bitsPerPixel !== undefined,
    form: {
      title: 'JPEG XS',
      examples: ['1080p50 jpegxs 3bpp', '2160p59.94 jpegxs 1.5G'],
      more: 'bits per pixel, or the rate SDP states',
    },
    read: readJpegXs,
  },
});

/** JPEG XS payload header (RFC 9134 §4.3). */
export const JPEG_XS_HEADER_OCTETS = 4;

const HEADER_OCTETS = RTP_UDP_IP_OCTETS + JPEG_XS_HEADER_OCTETS;
const CODESTREAM_PER_PACKET_OCTETS = STANDARD_RTP_PAYLOAD_OCTETS - JPEG_XS_HEADER_OCTETS;

/** Rate of a ST 2110-22 stream from its stated rate, which counts whole IP packets (ST 2110-22 §7.3). */
function jpegXsRate(format: EssenceFacts): RateResult {
  const frameRate = frameRateOf(format);
  const ipBps = stated(format.rateBps);
  if (ipBps === undefined || frameRate === undefined) {
    return lacking(...absent({ rate: ipBps, 'frame rate': frameRate }));
  }
  const udpLimitOctets = format.maxUdpOctets ?? STANDARD_UDP_OCTETS;
  const fullIpOctets = udpLimitOctets + IP_OCTETS;
  const parts = partCount(format);
  const ipPerPart = divide(ipBps, multiply(frameRate, parts * BITS));
  const packets = parts * ceiling(divide(ipPerPart, fullIpOctets));
  const largestIpOctets = packets === parts ? ceiling(ipPerPart) : fullIpOctets;
  const packetsPerSecond = multiply(frameRate, packets);
  const essenceBps = add(ipBps, multiply(packetsPerSecond, -HEADER_OCTETS * BITS));
  if (essenceBps.numerator <= 0n) return lacking('a rate above that of the headers alone');
  return known(ratesOf(packetsPerSecond, essenceBps, ipBps), {
    codingNote: 'ST 2110-22, JPEG XS',
    largestUdpOctets: largestIpOctets - IP_OCTETS,
    largestIpOctets,
    udpLimitOctets,
    packetsPerFrame: packets,
    basis: 'computed',
    assumptions: [
      ...scanAssumptions(format),
      'the rate counts whole IP packets, as `b=AS` does (ST 2110-22 §7.3)',
      'the sender fills its packets; one that packs by slice sends more of them (RFC 9134 §4.1)',
    ],
  });
}

/** Rates of a codestream of so many octets in each part (frame or field) of the picture, in full packets. */
export function codestreamRates(partsPerSecond: Ratio, octetsPerPart: number): Rates<Ratio> {
  const packets = Math.ceil(octetsPerPart / CODESTREAM_PER_PACKET_OCTETS);
  return ratesPerPeriod(partsPerSecond, {
    packets,
    essenceOctets: octetsPerPart,
    ipOctets: octetsPerPart + packets * HEADER_OCTETS,
  });
}

/** What `b=AS` says of a stream, as bit/s: its rate at the IP layer, rounded up to whole kbit/s (ST 2110-22 §7.3). */
export function statedRateBps({ ipBps }: Pick<Rates<Ratio>, 'ipBps'>): number {
  return ceiling(divide(ipBps, 1000)) * 1000;
}

/** Rate at the IP layer of a picture coded at so many bits per pixel; undefined when the picture is not stated. */
function rateOfBitsPerPixel(format: EssenceFacts, bitsPerPixel: number): number | undefined {
  const { width, height } = format;
  const frameRate = frameRateOf(format);
  const bits = stated(bitsPerPixel);
  if (width === undefined || height === undefined || frameRate === undefined || bits === undefined) return undefined;
  const parts = partCount(format);
  const octetsPerPart = ceiling(divide(multiply(bits, ratio(width * height)), parts * BITS));
  return statedRateBps(codestreamRates(multiply(frameRate, parts), octetsPerPart));
}

function readJpegXs(facts: Partial<SaidFacts>): SaidEssence | SayingProblem {
  const { picture, sampling, depth, bitsPerPixel } = facts;
  if (picture === undefined) return { problem: 'JPEG XS has a picture; write `1080p50 jpegxs 3bpp`' };
  const said = rateOf(facts);
  if (said !== undefined && bitsPerPixel !== undefined) {
    return { problem: 'a rate and bits per pixel say the same thing twice; keep one' };
  }
  const format: EssenceFacts = { ...pictureFormat(picture), sampling, depth };
  const rateBps = bitsPerPixel === undefined ? said : rateOfBitsPerPixel(format, bitsPerPixel);
  if (rateBps === undefined) {
    return { problem: 'JPEG XS has the rate it is set to; write `1080p50 jpegxs 3bpp` or `1080p50 jpegxs 320M`' };
  }
  const coded = `${bitsPerPixel ?? 0} bit per pixel in full packets, which SDP states as b=AS:${rateBps / 1000}`;
  return {
    format: { ...format, rateBps },
    options: {},
    assumptions: [...pictureAssumptions(picture), ...(bitsPerPixel === undefined ? [] : [coded])],
  };
}
