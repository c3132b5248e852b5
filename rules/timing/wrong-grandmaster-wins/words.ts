import { agree, counted, listNames, type FindingWords } from '../../../src/doors/rule.js';
import { advantageWords, type Advantage, type Victory } from '../../../src/doors/timing.js';

interface Led {
  readonly leader: string;
  readonly domain: number;
  /** Clocks that keep the leader's time. */
  readonly followers: number;
}

interface Unintended extends Led {
  readonly form: 'unintended';
  readonly intended: { readonly name: string; readonly priority1: number };
  readonly victory: Victory;
  /** Others lead another part of the domain. */
  readonly isSplit: boolean;
  readonly isEndDevice: boolean;
}

interface WithoutReference extends Led {
  readonly form: 'no reference';
  readonly clockClass: number;
  /** Clocks with a reference that stand by. */
  readonly better: readonly string[];
  readonly betterClass: number;
  readonly advantage: Advantage;
  readonly lowestPriority1: number;
}

export type Facts = Unintended | WithoutReference;

export type Note = keyof typeof NOTES;

export function words(facts: Facts): FindingWords<Note> {
  const label = (name: string, note: Note): string => `${name}: ${NOTES[note]}`;
  return { ...(facts.form === 'unintended' ? unintendedWords(facts) : outrankedWords(facts)), label };
}

const NOTES = {
  unintended: 'not meant to lead',
  intended: 'meant to lead',
  'without reference': 'leads without a reference',
  'with reference': 'has a reference and does not lead',
} as const;

function unintendedWords(facts: Unintended): FindingWords<Note> {
  const { leader, domain, followers, isSplit, isEndDevice, victory } = facts;
  const { name: intended, priority1 } = facts.intended;
  return {
    what: `${leader} leads ${counted(followers, 'clock')} of domain ${domain} instead of ${intended}: ${victoryWords(facts)}`,
    onAir: isSplit
      ? `there are two times in one domain: sources locked to ${leader} drift against the rest, with repeated frames and clicks where they meet`
      : `all that is locked follows ${leader} and not ${intended}: time of day and timecode are its own, and when it is switched off every picture and sound steps`,
    fix: isEndDevice
      ? `set slaveOnly true on ${leader}, and give ${intended} the lowest priority1`
      : victory.by !== 'class' && victory.by !== 'reach'
        ? `give ${intended} a priority1 below that of all others that may lead; or, if ${leader} is meant to lead, name it among the grandmasters`
        : `give ${leader} clock class 248 and a priority1 above ${Math.max(priority1, 1)}, that of ${intended}; or, if it is meant to lead, name it among the grandmasters`,
  };
}

function victoryWords({ victory, intended: { name: intended } }: Unintended): string {
  if (victory.by === 'class')
    return `with clock class ${victory.clockClass} it never follows, though ${intended} is better`;
  if (victory.by === 'reach') return `the Announces of ${intended} do not reach them, though ${intended} is better`;
  return advantageWords(victory, 'it', intended);
}

function outrankedWords(facts: WithoutReference): FindingWords<Note> {
  const { leader, domain, followers, clockClass, better, betterClass, advantage, lowestPriority1 } = facts;
  return {
    what: `${leader} (clock class ${clockClass}) leads ${counted(followers, 'clock')} of domain ${domain} although ${listNames(better)} ${agree(better.length, 'has', 'have')} a reference (clock class ${betterClass}): ${advantageWords(advantage, 'it', better[0] ?? '')}, and priority1 is compared before the class`,
    onAir: `every picture and sound of what is joined here keeps the time of ${leader}: time of day drifts, and everything steps at once when the rigs are joined and again when they part`,
    fix: `give them one priority1 (${lowestPriority1}), so that the clock class decides, and order equals by priority2`,
  };
}
