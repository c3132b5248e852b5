/** Sound: AES67 and ST 2110-30 (linear PCM), ST 2110-31 (AM824). Every packet holds the same number of samples. */
import {
  IP_OCTETS,
  ratesPerPeriod,
  RTP_UDP_IP_OCTETS,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
} from './packet.js';
import { samplesPerPacket } from './packet-time.js';
import { divide, stated } from './ratio.js';
import { absent, known, lacking, type FormatFacts, type RateOptions, type RateResult } from './types.js';

/** Octets of one AES3 subframe (ST 2110-31). */
export const AM824_OCTETS = 4;

/** Rate of an AES67 or ST 2110-30 stream. */
export function pcmRate(format: FormatFacts, options: RateOptions): RateResult {
  const { sampleBits } = format;
  // AES67 §7.1 has L16 and L24 and no other.
  const coding = sampleBits === 16 || sampleBits === 24 ? sampleBits : undefined;
  const name = format.coding === 'aes67' ? 'AES67' : 'ST 2110-30';
  return soundRate(format, options, {
    facts: { 'sample size of 16 or 24 bit': coding },
    octetsPerSample: (coding ?? 0) / 8,
    note: (channels) => `${name}, L${coding ?? 0}, ${channels} ${channels === 1 ? 'channel' : 'channels'}`,
    assumptions: [],
  });
}

/** Rate of a ST 2110-31 stream, whose channels are AES3 subframes. */
export function am824Rate(format: FormatFacts, options: RateOptions): RateResult {
  const odd = (format.channels ?? 0) % 2 === 1;
  return soundRate(format, options, {
    facts: {},
    octetsPerSample: AM824_OCTETS,
    note: (channels) => `ST 2110-31, AM824, ${channels} ${channels === 1 ? 'subframe' : 'subframes'}`,
    assumptions: odd ? ['an odd number of subframes; ST 2110-31 carries whole AES3 pairs'] : [],
  });
}

/** Most channels one packet of the Standard UDP Size Limit holds (AES67 §6.3, ST 2110-10 §6.3). */
export function mostChannels(octetsPerSample: number, samples: number): number {
  return Math.floor(STANDARD_RTP_PAYLOAD_OCTETS / (octetsPerSample * samples));
}

interface SoundCoding {
  readonly facts: Readonly<Record<string, unknown>>;
  readonly octetsPerSample: number;
  readonly note: (channels: number) => string;
  readonly assumptions: readonly string[];
}

function soundRate(format: FormatFacts, options: RateOptions, coding: SoundCoding): RateResult {
  const { channels } = format;
  const sampleRate = stated(format.sampleRateHz);
  const packetTimeNs = stated(options.packetTimeNs ?? format.packetTimeNs);
  const wanting = absent({ channels, 'sample rate': sampleRate, ...coding.facts, 'packet time': packetTimeNs });
  if (channels === undefined || sampleRate === undefined || packetTimeNs === undefined || wanting.length > 0) {
    return lacking(...wanting);
  }
  const { samples, assumptions } = samplesPerPacket(packetTimeNs, sampleRate);
  if (samples < 1) return lacking('packet time of at least one sample');
  const payloadOctets = samples * channels * coding.octetsPerSample;
  const ipOctets = payloadOctets + RTP_UDP_IP_OCTETS;
  const exact = ratesPerPeriod(divide(sampleRate, samples), { packets: 1, essenceOctets: payloadOctets, ipOctets });
  return known(exact, {
    codingNote: `${coding.note(channels)}, ${samples} ${samples === 1 ? 'sample' : 'samples'} a packet`,
    largestUdpOctets: ipOctets - IP_OCTETS,
    largestIpOctets: ipOctets,
    udpLimitOctets: STANDARD_UDP_OCTETS,
    packetsPerFrame: undefined,
    basis: 'computed',
    assumptions: [...coding.assumptions, ...assumptions],
  });
}
