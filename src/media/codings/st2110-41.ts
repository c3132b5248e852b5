/** ST 2110-41: metadata of any content, known only by a stated rate. */
import {
  BITS,
  IP_OCTETS,
  ratesOf,
  RTP_UDP_IP_OCTETS,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
} from '../packet.js';
import { add, ceiling, divide, greater, multiply, ratio, stated } from '../ratio.js';
import { DATA_FORM, RATE, readRated } from '../said.js';
import { known, lacking, type EssenceFacts, type RateResult } from '../types.js';
import { defineCoding } from './coding.js';

const SAID = { title: 'fast metadata', write: '`2110-41 400k`' };

export const fastMetadata = defineCoding({
  name: 'st2110-41',
  essence: 'data',
  comparedAs: 'st2110-41',
  payloadTypes: { dynamicOnly: true },
  rate: fastMetadataRate,
  sdp: { encodings: ['st2110-41'], states: ['exact frame rate'] },
  said: {
    ...SAID,
    words: ['st2110-41', '2110-41'],
    takes: RATE,
    form: { ...DATA_FORM, examples: ['2110-41 400k'] },
    read: readRated(SAID, 'data', {}),
  },
});

/** A sender sends at least one packet in 500 ms (ST 2110-41). */
const LEAST_PACKETS_PER_SECOND = ratio(2);

/** Rate of a ST 2110-41 stream from its stated rate at the IP layer. */
function fastMetadataRate(format: EssenceFacts): RateResult {
  const ipBps = stated(format.rateBps);
  if (ipBps === undefined) return lacking('rate');
  const fullIpOctets = STANDARD_RTP_PAYLOAD_OCTETS + RTP_UDP_IP_OCTETS;
  const packetsPerSecond = greater(divide(ipBps, fullIpOctets * BITS), LEAST_PACKETS_PER_SECOND);
  const essenceBps = add(ipBps, multiply(packetsPerSecond, -RTP_UDP_IP_OCTETS * BITS));
  if (essenceBps.numerator < 0n) return lacking('a rate above that of empty packets');
  const largestIpOctets = ceiling(divide(ipBps, multiply(packetsPerSecond, BITS)));
  return known(ratesOf(packetsPerSecond, essenceBps, ipBps), {
    codingNote: 'ST 2110-41, fast metadata',
    largestUdpOctets: largestIpOctets - IP_OCTETS,
    largestIpOctets,
    udpLimitOctets: STANDARD_UDP_OCTETS,
    packetsPerFrame: undefined,
    basis: 'estimated',
    assumptions: [
      'the stated rate counts whole IP packets, and the sender fills them; many small packets cost more on the wire',
    ],
  });
}
