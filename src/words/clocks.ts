/** PTP clocks in words. */
import type { Advantage } from '../model/timing/advantage.js';
import type { Span } from '../model/timing/takeover-time.js';

/** Why the winner beats the loser: `its priority1 127 goes before 128`. */
export function advantageWords(advantage: Advantage): string {
  if (advantage.by === 'unstated identity')
    return 'everything before the clock identity is equal, and the plan does not state the identities';
  const before = `its ${VALUES[advantage.by]} ${advantage.winner} goes before ${advantage.loser}`;
  return advantage.by === 'identity' ? `everything else is equal and ${before}` : before;
}

const VALUES = {
  priority1: 'priority1',
  clockClass: 'clock class',
  clockAccuracy: 'clock accuracy',
  offsetScaledLogVariance: 'variance',
  priority2: 'priority2',
  identity: 'clock identity',
} as const;

/** `in 0.75 to 1 s`, `within 2 s`. */
export function spanWords({ fromS, toS }: Span): string {
  return fromS === 0 ? `within ${round(toS)} s` : `in ${round(fromS)} to ${round(toS)} s`;
}

/** 0.375 stays, 1.0000001 does not. */
function round(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}
