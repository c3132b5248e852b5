/** Sizes of datagrams and packets, for rules. */
import { STANDARD_RTP_PAYLOAD_OCTETS, STANDARD_UDP_OCTETS } from '../../media/packet.js';
import { AM824_OCTETS, mostChannels } from '../../media/sound.js';
import type { Format } from '../../plan/types.js';

export { STANDARD_RTP_PAYLOAD_OCTETS, STANDARD_UDP_OCTETS };

/** Whether a format states a largest datagram above the Standard UDP Size Limit (ST 2110-10 §6.4). */
export function isExtended(format: Format): boolean {
  return (format.maxUdpOctets ?? 0) > STANDARD_UDP_OCTETS;
}

/** Most channels of a format of sound in one packet of so many samples (AES67 §6.3). */
export function channelsThatFit(format: Format, samples: number): number {
  const octets = format.coding === 'st2110-31' ? AM824_OCTETS : (format.sampleBits ?? 24) / 8;
  return mostChannels(octets, samples);
}
