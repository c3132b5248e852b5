/** Transport streams over RTP (RFC 2250), whatever is inside. */
import { IP_OCTETS, ratesFromEssenceRate, ratesFromIpRate, RTP_UDP_IP_OCTETS, type FullPacket } from './packet.js';
import { stated } from './ratio.js';
import { ratedSaid, type SaidForm } from './said.js';
import { known, lacking, type EssenceFacts, type RateOptions, type RateResult } from './types.js';

/** One transport packet (ISO/IEC 13818-1, by way of RFC 2250 §2). */
export const TRANSPORT_PACKET_OCTETS = 188;
/** As many as a packet under 1500 octets holds (RFC 2250 §2 asks for whole ones; seven is common practice). */
export const TRANSPORT_PACKETS = 7;

/** A full RTP packet of a transport stream. */
export const TRANSPORT_PACKET: FullPacket = {
  essenceOctets: TRANSPORT_PACKETS * TRANSPORT_PACKET_OCTETS,
  ipOctets: TRANSPORT_PACKETS * TRANSPORT_PACKET_OCTETS + RTP_UDP_IP_OCTETS,
};

/** Rate of a transport stream over RTP from its stated rate. */
export function transportStreamRate(
  format: EssenceFacts,
  { statedRateCounts }: RateOptions,
  content: TransportContent,
): RateResult {
  const rateBps = stated(format.rateBps);
  if (rateBps === undefined) return lacking('rate');
  const isStreamRate = statedRateCounts === 'stream';
  return known((isStreamRate ? ratesFromEssenceRate : ratesFromIpRate)(rateBps, TRANSPORT_PACKET), {
    codingNote: `${content.note} transport stream over RTP`,
    largestUdpOctets: TRANSPORT_PACKET.ipOctets - IP_OCTETS,
    largestIpOctets: TRANSPORT_PACKET.ipOctets,
    udpLimitOctets: undefined,
    packetsPerFrame: undefined,
    basis: 'estimated',
    assumptions: [
      isStreamRate
        ? 'the rate is that of the transport stream, before it is put into packets'
        : 'the stated rate counts whole IP packets',
      'seven transport packets a packet; error correction of ST 2022-1 is not counted',
      ...content.assumptions,
    ],
  });
}

/** What a transport stream carries, for people. */
export interface TransportContent {
  readonly note: string;
  readonly assumptions: readonly string[];
}

/** How people say one: by its rate, which they read off a multiplexer. */
export function transportStreamSaid(
  said: Pick<SaidForm, 'title' | 'write' | 'words'>,
  examples: readonly string[],
): SaidForm {
  return ratedSaid(said, { title: 'transport stream', examples, more: 'rate of the stream itself' });
}
