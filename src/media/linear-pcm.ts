/** Linear PCM, which ST 2110-30 and AES67 send alike. */
import type { CodingDescriptor } from './codings/coding.js';
import { readSound, SOUND_FACTS, soundRate } from './sound.js';
import type { SaidForm } from './said.js';
import type { EssenceFacts } from './types.js';

/** What both have in common. */
export const LINEAR_PCM = {
  essence: 'audio',
  // Packet time every receiver of AES67 takes (AES67-2018 §7.2): what most senders are set to.
  usualPacketTimeNs: 1_000_000,
} as const satisfies Partial<CodingDescriptor>;

/** What both have in common in words. */
export const LINEAR_PCM_SAID = {
  takes: ['sampleBits', 'depth', ...SOUND_FACTS],
  read: readSound('L24 8ch', true),
} as const satisfies Partial<SaidForm>;

/** Rate of a stream of linear PCM, for a coding of this name. */
export function pcmRate(name: string): CodingDescriptor['rate'] {
  return (format, options) => {
    const { sampleBits } = format;
    // AES67 §7.1 has L16 and L24 and no other.
    const size = sampleBits === 16 || sampleBits === 24 ? sampleBits : undefined;
    return soundRate(format, options, {
      facts: { 'sample size of 16 or 24 bit': size },
      octetsPerSample: (size ?? 0) / 8,
      note: (channels) => `${name}, L${size ?? 0}, ${channels} ${channels === 1 ? 'channel' : 'channels'}`,
      assumptions: [],
    });
  };
}

/** 10 and 11: L16 at 44.1 kHz, stereo and mono (RFC 3551 §6, table 4). */
export function isPlainAudio(
  type: number,
  { sampleRateHz = 44_100, sampleBits = 16, channels }: EssenceFacts,
): boolean {
  if ((type !== 10 && type !== 11) || sampleRateHz !== 44_100 || sampleBits !== 16) return false;
  return channels === undefined || channels === (type === 10 ? 2 : 1);
}
