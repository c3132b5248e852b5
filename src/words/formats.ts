/** Members of a format as people call them. */
import type { Format } from '../plan/types.js';

/** `frame rate`, `sample size`. */
export function memberTitle(member: keyof Format): string {
  return TITLES[member] ?? member;
}

const TITLES: Readonly<Partial<Record<keyof Format, string>>> = {
  frameRate: 'frame rate',
  sampleRateHz: 'sample rate',
  sampleBits: 'sample size',
  packetTimeNs: 'packet time',
};
