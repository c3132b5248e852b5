/** What a report on clocks says in words: reasons, standings, seconds, losses. */
import type { Step } from '../../model/timing/bmca.js';
import { classMeaning } from '../../model/timing/clock-quality.js';
import type { Handover, LossResult, NamedLoss } from '../../model/timing/failover.js';
import type { ClockRole } from '../../model/timing/clock-role.js';
import type { Span } from '../../model/timing/takeover-time.js';
import type { Clock, Leader, TimingGroup } from '../../model/timing/timing.js';
import { prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import type { PtpTransport } from '../../plan/types.js';
import { formatClockIdentity } from '../../values/clock-identity.js';
import { agree, counted } from '../../words/counts.js';

export const TRANSPORTS: Readonly<Record<PtpTransport, string>> = {
  'udp-ipv4': 'UDP/IPv4',
  'udp-ipv6': 'UDP/IPv6',
  ethernet: 'Ethernet',
};

/** `DOMAIN 127 over UDP/IPv4: media`. */
export function groupTitle({
  domain,
  transport,
  planned,
}: Pick<TimingGroup, 'domain' | 'transport' | 'planned'>): string {
  const names = [...new Set(planned.flatMap((one) => one.name ?? []))];
  return `DOMAIN ${domain} over ${TRANSPORTS[transport]}${names.length === 0 ? '' : `: ${names.join(', ')}`}`;
}

/** `before clock-202 by priority2, 1 against 2`. */
export function whyWords({ clock, why }: Pick<Leader, 'clock' | 'why'>): Phrase {
  if (why === undefined) return say`nobody else in reach may lead`;
  const { rival, step, rivalIsBetter } = why;
  const values = `${stepValue(clock, step)} against ${stepValue(rival, step)}`;
  const guess = clock.assumed.has(factOf(step)) || rival.assumed.has(factOf(step)) ? ', not stated for both' : '';
  const barred = 'a port only leads or a clock of class 127 or lower does not follow';
  if (rivalIsBetter) {
    const better = say`although ${rival.name} has the better ${step} (${prose(values)}${guess})`;
    return say`${better}: its claim does not reach, because ${prose(barred)}`;
  }
  return say`before ${rival.name} by ${step} (${prose(values)}${guess})`;
}

function factOf(step: Step): 'identity' | Exclude<Step, 'stepsRemoved' | 'sender' | 'receiver'> {
  return step === 'stepsRemoved' || step === 'sender' || step === 'receiver' ? 'identity' : step;
}

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
export function spanWords({ fromS, toS }: Span): string {
  return `${seconds(fromS)} to ${seconds(toS)} s`;
}

function seconds(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** `switch red-core`, `reference of clock-201 (class 7)`. */
export function lossWords({ kind, name, clockClass }: NamedLoss): string {
  return kind === 'reference' ? `reference of ${name} (class ${clockClass ?? ''})` : `${kind} ${name}`;
}

type Effect = Pick<LossResult, 'handovers' | 'rerouted' | 'alone'>;

/** What a loss does, the worst last so that it is not overlooked. */
export function effectWords({ handovers, rerouted, alone }: Effect, most: number): Phrase {
  const phrases = [
    ...handovers.map((one) => handoverWords(one)),
    ...(rerouted.length === 0
      ? []
      : [say`${clocksNamed(rerouted, most)} ${agree(rerouted.length, 'keeps', 'keep')} the grandmaster another way`]),
    ...(alone.length === 0
      ? []
      : [
          say`ALONE: ${sayNames(
            alone.map((one) => one.name),
            most,
          )}`,
        ]),
  ];
  return phrases.length === 0 ? say`nothing changes` : sayAll(phrases);
}

function handoverWords({ from, to, followers, times, stillLeads }: Handover): Phrase {
  const who = to.meantToLead ? say`${to.name}` : say`${to.name}, WHICH IS NOT MEANT TO LEAD,`;
  const takes = say`${who} takes over from ${from.name} within ${spanWords(times.standby)}`;
  const others = followers.filter((one) => one.owner !== to.owner);
  const whole =
    others.length === 0 ? takes : say`${takes}, ${clocksNamed(others, 3)} after ${spanWords(times.followers)}`;
  return stillLeads ? say`${whole}, while ${from.name} leads the rest` : whole;
}

function clocksNamed(clocks: readonly Clock[], most: number): Phrase {
  return clocks.length > most
    ? say`${counted(clocks.length, 'clock')}`
    : sayNames(
        clocks.map((one) => one.name),
        most,
      );
}
