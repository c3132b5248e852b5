import { agree, counted, listNames, withRig, type FindingWords } from '../../../src/doors/rule.js';
import { advantageWords, type Advantage, type ClockOwner } from '../../../src/doors/timing.js';

/** Why the winner leads; `reach`: the rival has the better claim, and most do not hear it. */
export type Victory =
  { readonly by: 'reach' } | (Advantage & { /** The plan leaves open what else is asked. */ readonly isOpen: boolean });

export interface Facts {
  readonly domain: number;
  readonly rigs: readonly string[];
  readonly winner: ClockOwner;
  /** The best of another rig. */
  readonly rival: ClockOwner;
  readonly victory: Victory;
  /** How many clocks of a rig keep the time of another. */
  readonly moved: readonly { readonly rig: string; readonly clocks: number }[];
  /** The list to agree on. */
  readonly list: readonly ClockOwner[];
}

export type Note = 'tie' | { readonly meantFor: string };

export function words(facts: Facts): FindingWords<Note> {
  const { domain, rigs, moved, list } = facts;
  const steps = moved.map(({ rig, clocks }) => `${counted(clocks, 'clock')} of ${rig}`);
  const stepping = moved.reduce((sum, { clocks }) => sum + clocks, 0);
  const where = moved.length === 0 ? 'in the rig that loses' : `in ${listNames(moved.map(({ rig }) => rig))}`;
  return {
    what: `clocks of ${listNames(rigs)} hear each other in domain ${domain}, and no list says who leads: ${victoryWords(facts)}${moved.length === 0 ? '' : `; ${listNames(steps)} ${agree(stepping, 'steps', 'step')}`}`,
    onAir: `everything locked ${where} relocks at the moment the rigs are joined, and again when they part: pictures and sound of it step or break up, and nobody has planned for it`,
    fix: `agree who leads, write all in one list where the rigs are joined, the one that leads first: \`timing: {domains: [{number: ${domain}, grandmasters: [${list.map(qualified).join(', ')}]}]}\`, and give them priority1 in that order`,
    label: (name, note) =>
      note === 'tie' ? 'the rigs are joined here: agree in this file' : `${name}: meant to lead in ${note.meantFor}`,
  };
}

function victoryWords({ victory, winner, rival }: Facts): string {
  if (victory.by === 'reach') return `most follow ${withRig(winner)}, though ${withRig(rival)} is better`;
  const why = advantageWords(victory, 'it', withRig(rival));
  if (victory.by === 'unstated identity') return `${withRig(winner)} may win or lose: ${why}`;
  return `${withRig(winner)} wins${victory.isOpen ? ', as far as the plan states it' : ''}: ${why}`;
}

function qualified({ name, rig }: ClockOwner): string {
  return rig.name === '' ? name : `${rig.name}:${name}`;
}
