import { agree, byLabel, listNames, type FindingWords, type Sender } from '../../../src/doors/rule.js';
import type { Habit } from '../../../src/doors/redundancy.js';

export interface Facts {
  readonly senders: readonly Sender[];
  /** What their like do, each once. */
  readonly habits: readonly Habit[];
  /** Names of the interfaces where a second leg could go. */
  readonly spares: readonly string[];
}

export function words({ senders, habits, spares }: Facts): FindingWords<'one leg'> {
  const count = senders.length;
  const reasons = byLabel(habits.map(habitWords), (why) => why);
  const where = spares.length === 0 ? 'an interface in the other network' : listNames(spares);
  return {
    what: `${listNames(senders.map(({ label }) => label))} ${agree(count, 'has', 'have')} one leg, while ${listNames(reasons, 3)}`,
    onAir: `the first cable, switch or feed that fails on its path takes ${agree(count, 'this stream', 'these streams')} off air, and only ${agree(count, 'this one', 'these')}: everybody believes it protected like the rest`,
    fix: `add a second leg on ${where}, or accept it with a waiver`,
    label: (name) => `${name}: one leg`,
  };
}

function habitWords(habit: Habit): string {
  const { two, all } = habit;
  return habit.of === 'kind'
    ? `${two} of the ${all} ${habit.stream} streams of kind ${habit.kind} have two`
    : `${two} of the ${all} ${habit.essence} streams of the rig have two`;
}
