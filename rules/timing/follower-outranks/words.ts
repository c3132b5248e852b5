import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Claim {
  readonly name: string;
  readonly priority1: number;
}

export interface Facts {
  readonly domain: number;
  /** Clocks that only follow and outrank the leader. */
  readonly clocks: readonly Claim[];
  readonly leader: Claim | undefined;
}

export type Note = 'outranks' | 'outranked';

export function words({ domain, clocks, leader }: Facts): FindingWords<Note> {
  const one = clocks.length === 1;
  return {
    what: `${listNames(clocks.map(claimWords))} ${one ? 'only follows, and outranks' : 'only follow, and outrank'} ${leader === undefined ? 'all others' : claimWords(leader)} in domain ${domain}`,
    onAir: `${
      one
        ? 'it hears its grandmaster, takes itself for the better one, may not lead and never follows: its'
        : 'they hear their grandmaster, take themselves for the better ones, may not lead and never follow: their'
    } pictures and sound drift from switch-on`,
    fix: `set priority1 255 on ${listNames(clocks.map(({ name }) => name))}`,
    label: (name, note) => `${name}: ${note === 'outranks' ? 'outranks what it hears' : 'outranked'}`,
  };
}

function claimWords({ name, priority1 }: Claim): string {
  return `${name} (priority1 ${priority1})`;
}
