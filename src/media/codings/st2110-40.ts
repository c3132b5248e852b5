/** ST 2110-40: ancillary data. No plan says what a camera inserts, so this estimate says what it counts. */
import {
  BITS,
  IP_OCTETS,
  ratesOf,
  ratesPerPeriod,
  RTP_UDP_IP_OCTETS,
  STANDARD_UDP_OCTETS,
  type Rates,
} from '../packet.js';
import { frameRateOf, partCount, scanAssumptions } from '../picture.js';
import { add, ceiling, divide, multiply, stated, type Ratio } from '../ratio.js';
import {
  DATA_FORM,
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

export const ancillaryData = defineCoding({
  name: 'st2110-40',
  essence: 'data',
  comparedAs: 'st2110-40',
  payloadTypes: { dynamicOnly: true },
  rate: ancillaryRate,
  sdp: { encodings: ['smpte291'], states: ['exact frame rate'] },
  said: {
    title: 'ancillary data',
    write: '`anc 1080i50`',
    words: ['st2110-40', '2110-40', 'anc', 'smpte291'],
    takes: ['picture', ...RATE],
    form: { ...DATA_FORM, examples: ['anc 1080i50'] },
    read: readAncillary,
  },
});

/** Payload header before the ANC packets (RFC 8331 §2). */
export const ANCILLARY_HEADER_OCTETS = 8;

/** User words of what the estimate takes a frame to hold: time code, aspect, captions, and a packet of full length. */
export const ASSUMED_USER_WORDS: readonly number[] = [16, 8, 73, 255];

/** Octets of an ANC packet of so many user data words: 32 bits of place, then 10-bit words, padded (RFC 8331 §2). */
export function ancillaryPacketOctets(userWords: number): number {
  const wordsAround = 4; // DID, SDID, Data_Count and checksum
  return 4 * Math.ceil((32 + (userWords + wordsAround) * 10) / 32);
}

/** Rates of one packet in every frame, field or segment, empty ones included (ST 2110-40 §5, RFC 8331 §2). */
export function ancillaryRates(partsPerSecond: Ratio, userWords: readonly number[]): Rates<Ratio> {
  const essenceOctets = userWords.reduce((total, words) => total + ancillaryPacketOctets(words), 0);
  return ratesPerPeriod(partsPerSecond, {
    packets: 1,
    essenceOctets,
    ipOctets: essenceOctets + ANCILLARY_HEADER_OCTETS + RTP_UDP_IP_OCTETS,
  });
}

/** Rate of a ST 2110-40 stream: as stated, else of the assumed content. */
function ancillaryRate(format: EssenceFacts): RateResult {
  const frameRate = frameRateOf(format);
  if (frameRate === undefined) return lacking(...absent({ 'frame rate': frameRate }));
  const partsPerSecond = multiply(frameRate, partCount(format));
  const ipBps = stated(format.rateBps);
  const packets = ipBps === undefined ? 1 : ceiling(divide(ipBps, multiply(partsPerSecond, BITS * FULL_IP_OCTETS)));
  const exact =
    ipBps === undefined
      ? ancillaryRates(partsPerSecond, ASSUMED_USER_WORDS)
      : statedRates(ipBps, multiply(partsPerSecond, packets));
  if (exact === undefined) return lacking('a rate above that of empty packets');
  const largestIpOctets = packets > 1 ? FULL_IP_OCTETS : ceiling(divide(exact.ipBps, multiply(partsPerSecond, BITS)));
  return known(exact, {
    codingNote: 'ST 2110-40, ancillary data',
    largestUdpOctets: largestIpOctets - IP_OCTETS,
    largestIpOctets,
    udpLimitOctets: STANDARD_UDP_OCTETS,
    packetsPerFrame: packets * partCount(format),
    basis: 'estimated',
    assumptions: [
      ...scanAssumptions(format),
      ipBps === undefined ? CONTENT : 'the stated rate counts whole IP packets; a frame or field has as few as hold it',
    ],
  });
}

const FULL_IP_OCTETS = STANDARD_UDP_OCTETS + IP_OCTETS;
const CONTENT =
  `one packet a frame or field, with ANC packets of ${ASSUMED_USER_WORDS.join(', ')} words (time code, aspect, ` +
  'captions, one of full length); heavy use of the blanking area needs more';

function statedRates(ipBps: Ratio, packetsPerSecond: Ratio): Rates<Ratio> | undefined {
  const essenceBps = add(ipBps, multiply(packetsPerSecond, -(RTP_UDP_IP_OCTETS + ANCILLARY_HEADER_OCTETS) * BITS));
  return essenceBps.numerator < 0n ? undefined : ratesOf(packetsPerSecond, essenceBps, ipBps);
}

function readAncillary(facts: Partial<SaidFacts>): SaidEssence | SayingProblem {
  const { picture } = facts;
  if (picture === undefined) return { problem: 'ancillary data follows a picture; write `anc 1080i50`' };
  return {
    format: { ...pictureFormat(picture), essence: 'data', rateBps: rateOf(facts) },
    options: {},
    assumptions: pictureAssumptions(picture),
  };
}
