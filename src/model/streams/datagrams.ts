/** Sizes of datagrams and packets, for rules. */
import { codingNamed } from '../../media/codings/index.js';
import { STANDARD_RTP_PAYLOAD_OCTETS, STANDARD_UDP_OCTETS } from '../../media/packet.js';
import { mostChannels } from '../../media/sound.js';
import type { Format } from '../../plan/types.js';

export { STANDARD_RTP_PAYLOAD_OCTETS, STANDARD_UDP_OCTETS };

/** Whether a format states a largest datagram above the Standard UDP Size Limit (ST 2110-10 §6.4). */
export function isExtended(format: Format): boolean {
  return (format.maxUdpOctets ?? 0) > STANDARD_UDP_OCTETS;
}

/** Most channels of a format of sound in one packet of so many samples (AES67 §6.3). */
export function channelsThatFit(format: Format, samples: number): number {
  const octets = codingNamed(format.coding)?.sampleOctets ?? (format.sampleBits ?? 24) / 8;
  return mostChannels(octets, samples);
}

/** The largest datagram of a format, in octets: what it states, else the Standard UDP Size Limit (ST 2110-10 §6.3). */
export function udpLimitOf({ maxUdpOctets = STANDARD_UDP_OCTETS }: Format): number {
  return maxUdpOctets;
}

/** Octets of a datagram that are left for what is sent, without the UDP and RTP headers. */
export function payloadOf(udpOctets: number): number {
  return udpOctets - (STANDARD_UDP_OCTETS - STANDARD_RTP_PAYLOAD_OCTETS);
}

/** The largest standard datagram, in octets, whose IP packet an MTU takes (RFC 791 §3.1: 20 octets of IP header). */
export function udpWithin(mtuOctets: number): number {
  return Math.min(STANDARD_UDP_OCTETS, mtuOctets - 20);
}

/** Most channels of a format of sound in packets of this time; 0 where the plan does not tell, or none fits. */
export function channelsWithin(format: Format, packetTimeNs: number): number {
  const samples = Math.round((packetTimeNs * (format.sampleRateHz ?? 0)) / 1e9);
  return samples > 0 ? channelsThatFit(format, samples) : 0;
}
