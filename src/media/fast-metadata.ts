/** ST 2110-41: metadata of any content, known only by a stated rate. */
import {
  BITS,
  IP_OCTETS,
  ratesOf,
  RTP_UDP_IP_OCTETS,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
} from './packet.js';
import { add, ceiling, divide, greater, multiply, ratio, stated } from './ratio.js';
import { known, lacking, type FormatFacts, type RateResult } from './types.js';

/** A sender sends at least one packet in 500 ms (ST 2110-41). */
const LEAST_PACKETS_PER_SECOND = ratio(2);

/** Rate of a ST 2110-41 stream from its stated rate at the IP layer. */
export function fastMetadataRate(format: FormatFacts): RateResult {
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
