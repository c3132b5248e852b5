/** Words for PTP clocks: their settings, standings and losses, and the seconds a takeover takes. */
import {
  type Advantage,
  classMeaning,
  type Clock,
  type ClockRole,
  type NamedLoss,
  type Span,
  type Step,
} from '../model/timing/index.js';
import type { PtpTransport } from '../plan/types.js';
import { formatClockIdentity } from '../values/clock-identity.js';

export const TRANSPORTS: Readonly<Record<PtpTransport, string>> = {
  'udp-ipv4': 'UDP/IPv4',
  'udp-ipv6': 'UDP/IPv6',
  ethernet: 'Ethernet',
};

/** A value as settings show it: accuracy and variance in hexadecimal, identities in pairs. */
export function stepValue({ quality }: Clock, step: Step): string {
  switch (step) {
    case 'clockAccuracy':
      return `0x${quality.clockAccuracy.toString(16).toUpperCase().padStart(2, '0')}`;
    case 'offsetScaledLogVariance':
      return `0x${quality.offsetScaledLogVariance.toString(16).toUpperCase().padStart(4, '0')}`;
    case 'priority1':
    case 'priority2':
    case 'clockClass':
      return String(quality[step]);
    case 'identity':
    case 'stepsRemoved':
    case 'sender':
    case 'receiver':
      return formatClockIdentity(quality.identity);
  }
}

/** `class 6, locked to a primary reference; priorities 10 and 1`. */
export function qualityWords({ quality }: Clock): string {
  const { clockClass, priority1, priority2 } = quality;
  return `class ${clockClass}, ${classMeaning(clockClass)}; priorities ${priority1} and ${priority2}`;
}

export const CLOCK_ROLES: Readonly<Record<ClockRole, string>> = {
  leads: 'leads',
  follows: 'follows',
  passive: 'own time: a better clock is heard, but at this class never followed',
  alone: 'own time, and nobody follows',
  waits: 'may only follow, with nobody to hear: no time',
  outranks: 'may only follow, yet its own values beat every clock it hears, so it follows none: no time',
  off: 'cut off',
};

/** `3 to 4 s`. */
export function secondsWords({ fromS, toS }: Span): string {
  return `${seconds(fromS)} to ${seconds(toS)} s`;
}

function seconds(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** `switch red-core`, `reference of clock-201 (class 7)`. */
export function lossWords({ kind, name, clockClass }: Pick<NamedLoss, 'kind' | 'name' | 'clockClass'>): string {
  return kind === 'reference' ? `reference of ${name} (class ${clockClass ?? ''})` : `${kind} ${name}`;
}

/** Why the winner beats the loser: `clock-18 beats clock-201 on priority1, 127 against 128`. */
export function advantageWords(advantage: Advantage, winner: string, loser: string): string {
  if (advantage.by === 'unstated identity')
    return `${winner} ties with ${loser} on everything before the clock identity, and the plan does not state the identities`;
  const on = `on ${VALUES[advantage.by]}, ${advantage.winner} against ${advantage.loser}`;
  return advantage.by === 'identity'
    ? `${winner} ties with ${loser} on everything else and beats it ${on}`
    : `${winner} beats ${loser} ${on}`;
}

const VALUES = {
  priority1: 'priority1',
  clockClass: 'clock class',
  clockAccuracy: 'clock accuracy',
  offsetScaledLogVariance: 'variance',
  priority2: 'priority2',
  identity: 'clock identity',
} as const;

/** `in 0.75 to 1 s`, `within 2 s`; undefined: not known. */
export function spanWords(span: Span | undefined): string {
  if (span === undefined) return 'at a time that is not known';
  const { fromS, toS } = span;
  return fromS === 0 ? `within ${round(toS)} s` : `in ${round(fromS)} to ${round(toS)} s`;
}

/** 0.375 stays, 1.0000001 does not. */
function round(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}
