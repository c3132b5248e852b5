import { agree, counted, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  readonly clocks: readonly string[];
  /** One of them is meant to lead. */
  readonly meant: string | undefined;
  /** The domain has other clocks, out of their reach. */
  readonly others: boolean;
}

export type Note = 'hears no leader' | 'meant to lead';

export function words({ domain, clocks, meant, others }: Facts): FindingWords<Note> {
  return {
    what: `domain ${domain} has ${counted(clocks.length, 'clock')} that only ${agree(clocks.length, 'follows', 'follow')} (${listNames(clocks)}) and nobody to lead${others ? ' in reach' : ''}`,
    onAir:
      'they listen forever and free-run, each on its own oscillator: pictures and sound drift apart from switch-on, with repeated frames and clicks',
    fix: fixWords(meant, others),
    label: (name, note) =>
      `${name}: ${note === 'meant to lead' ? 'meant to lead, yet it only follows' : 'only follows, and hears no leader'}`,
  };
}

function fixWords(meant: string | undefined, others: boolean): string {
  if (meant !== undefined)
    return `let ${meant} lead: slaveOnly false, and the clock class of what it is locked to (6 with GNSS or another primary reference)`;
  return others
    ? 'bring the network of a grandmaster to them, or put a grandmaster there'
    : 'add a grandmaster to this domain, or set their domain to that of the grandmaster';
}
