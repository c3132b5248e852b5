/** Video known only by its rate: an estimate from packets of common size. */
import { IP_OCTETS, ratesFromEssenceRate, ratesFromIpRate, RTP_UDP_IP_OCTETS, type FullPacket } from './packet.js';
import { stated } from './ratio.js';
import { ratedSaid, type SaidForm } from './said.js';
import { known, lacking, type EssenceFacts, type RateOptions, type RateResult } from './types.js';

/** Coded octets in a packet: common encoders stay near it (common practice, no source). */
const CODED_OCTETS = 1400;
/** Fragment header (RFC 6184 §5.8); other codings have one of like size. */
const FRAGMENT_HEADER_OCTETS = 2;

/** A full packet as the estimate takes it. */
export const CODED_PACKET: FullPacket = {
  essenceOctets: CODED_OCTETS,
  ipOctets: CODED_OCTETS + FRAGMENT_HEADER_OCTETS + RTP_UDP_IP_OCTETS,
};

/** Rate of a coded stream from its stated rate. */
export function codedVideoRate(format: EssenceFacts, { statedRateCounts }: RateOptions, name: string): RateResult {
  const rateBps = stated(format.rateBps);
  if (rateBps === undefined) return lacking('rate');
  const isStreamRate = statedRateCounts === 'stream';
  return known((isStreamRate ? ratesFromEssenceRate : ratesFromIpRate)(rateBps, CODED_PACKET), {
    codingNote: `${name}, by its stated rate`,
    largestUdpOctets: CODED_PACKET.ipOctets - IP_OCTETS,
    largestIpOctets: CODED_PACKET.ipOctets,
    udpLimitOctets: undefined,
    packetsPerFrame: undefined,
    basis: 'estimated',
    assumptions: [
      isStreamRate
        ? 'the rate is that of the encoder, before it is put into packets'
        : 'the stated rate counts whole IP packets',
      `packets hold about ${CODED_OCTETS} coded octets; the stream is steady at its stated rate`,
    ],
  });
}

/** How people say it: by its rate, which they read off an encoder. */
export function codedVideoSaid(
  said: Pick<SaidForm, 'title' | 'write' | 'words'>,
  examples: readonly string[],
): SaidForm {
  return ratedSaid(said, { title: 'coded video', examples, more: 'rate of the encoder' });
}
