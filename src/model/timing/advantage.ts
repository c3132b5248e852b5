/** Why one clock's claim goes before another's, as data. */
import { formatClockIdentity } from '../../values/clock-identity.js';
import { compareQualities, type Step } from './bmca.js';
import type { ClockFact } from './clocks.js';
import type { Clock } from './timing.js';

/** The first value in which two claims differ, in the order in which the election asks (IEEE 1588-2008 §9.3.4). */
export type Advantage =
  | {
      readonly by: 'priority1' | 'clockClass' | 'clockAccuracy' | 'offsetScaledLogVariance' | 'priority2';
      readonly winner: number;
      readonly loser: number;
    }
  | { readonly by: 'identity'; readonly winner: string; readonly loser: string }
  /** Everything before the identity is equal, and the plan states not both identities. */
  | { readonly by: 'unstated identity' };

export function advantageOf(winner: Clock, loser: Clock, step: Step = stepBetween(winner, loser)): Advantage {
  switch (step) {
    case 'priority1':
    case 'priority2':
    case 'clockClass':
    case 'clockAccuracy':
    case 'offsetScaledLogVariance':
      return { by: step, winner: winner.quality[step], loser: loser.quality[step] };
    case 'identity':
    case 'stepsRemoved':
    case 'sender':
    case 'receiver':
      if (isOpenBetween(winner, loser, ['identity'])) return { by: 'unstated identity' };
      return {
        by: 'identity',
        winner: formatClockIdentity(winner.quality.identity),
        loser: formatClockIdentity(loser.quality.identity),
      };
  }
}

function stepBetween(winner: Clock, loser: Clock): Step {
  return compareQualities(winner.quality, loser.quality).step;
}

/** Whether the plan leaves one of these values open for either clock; those between the two priorities, if none are named. */
export function isOpenBetween(a: Clock, b: Clock, facts: readonly ClockFact[] = BETWEEN_PRIORITIES): boolean {
  return facts.some((fact) => a.assumed.has(fact) || b.assumed.has(fact));
}

const BETWEEN_PRIORITIES = ['clockClass', 'clockAccuracy', 'offsetScaledLogVariance'] as const;
