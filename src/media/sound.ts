/** What codings of sound share: every packet holds the same number of samples. */
import {
  IP_OCTETS,
  ratesPerPeriod,
  RTP_UDP_IP_OCTETS,
  STANDARD_RTP_PAYLOAD_OCTETS,
  STANDARD_UDP_OCTETS,
} from './packet.js';
import { samplesPerPacket } from './packet-time.js';
import { divide, stated } from './ratio.js';
import { NOTHING, type FormatForm, type SaidFacts, type SaidForm } from './said.js';
import { absent, known, lacking, type EssenceFacts, type RateOptions, type RateResult } from './types.js';

/** Most channels one packet of the Standard UDP Size Limit holds (AES67 §6.3, ST 2110-10 §6.3). */
export function mostChannels(octetsPerSample: number, samples: number): number {
  return Math.floor(STANDARD_RTP_PAYLOAD_OCTETS / (octetsPerSample * samples));
}

/** What sets a coding of sound apart. */
export interface SoundCoding {
  /** What has to be known besides, by the name of the fact. */
  readonly facts: Readonly<Record<string, unknown>>;
  readonly octetsPerSample: number;
  readonly note: (channels: number) => string;
  readonly assumptions: readonly string[];
}

/** Rate of a stream of sound. */
export function soundRate(format: EssenceFacts, options: RateOptions, coding: SoundCoding): RateResult {
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

/** Facts that words say of any sound. */
export const SOUND_FACTS: readonly (keyof SaidFacts)[] = ['channels', 'packetTimeNs', 'sampleRateHz', 'thousands'];

/** Codings of sound share a place on the page of forms. */
export const SOUND_FORM: Omit<FormatForm, 'examples'> = { title: 'sound', more: 'packet time, sample rate' };

/** Reads the words of sound. `example`: how its channels are said; `sized`: it has samples of 16 or 24 bit. */
export function readSound(example: string, sized: boolean): SaidForm['read'] {
  return (facts) => {
    const { channels, packetTimeNs, depth, sampleRateHz, thousands } = facts;
    if (channels === undefined) return { problem: `sound has channels; write \`${example}\`` };
    if (facts.sampleBits !== undefined && depth !== undefined) {
      return { problem: `\`L${facts.sampleBits}\` says the depth; leave ${depth} bit out` };
    }
    if (sampleRateHz !== undefined && thousands !== undefined) return { problem: 'two sample rates; keep one' };
    const sampleBits = facts.sampleBits ?? (depth === undefined ? undefined : Number(depth));
    if (sampleBits !== undefined && sampleBits !== 16 && sampleBits !== 24) {
      return { problem: 'sound has 16 or 24 bit; write `L16` or `L24`' };
    }
    const rateHz = sampleRateHz ?? thousands;
    return {
      format: {
        ...NOTHING,
        essence: 'audio',
        channels,
        sampleBits: sized ? (sampleBits ?? 24) : undefined,
        sampleRateHz: rateHz ?? 48_000,
        packetTimeNs: packetTimeNs ?? 1_000_000,
      },
      options: {},
      assumptions: [
        ...(!sized || sampleBits !== undefined ? [] : ['24 bit']),
        ...(rateHz === undefined ? ['48 kHz'] : []),
        ...(packetTimeNs === undefined ? ['packet time 1 ms'] : []),
      ],
    };
  };
}
