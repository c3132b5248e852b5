import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  /** log2 of seconds. */
  readonly odd: readonly { readonly name: string; readonly logAnnounceInterval: number }[];
  /** What the others have, log2 of seconds. */
  readonly usual: number;
  /** Clocks that give up between two Announces of their leader. */
  readonly hasty: readonly string[];
}

export function words({ domain, odd, usual, hasty }: Facts): FindingWords<never> {
  const has = odd.map(({ name, logAnnounceInterval }) => `${name} has ${seconds(logAnnounceInterval)}`);
  return {
    what: `announce intervals differ in domain ${domain}: ${listNames(has)}, the rest ${seconds(usual)}`,
    onAir:
      hasty.length > 0
        ? `${listNames(hasty)} ${agree(hasty.length, 'gives', 'give')} up between two Announces and ${agree(hasty.length, 'relocks', 'relock')} every few seconds: pictures and sound of ${agree(hasty.length, 'it', 'them')} break up again and again`
        : 'when the grandmaster is lost, clocks give it up at different times, and some follow a clock that others have not accepted yet: pictures and sound step one after the other',
    fix: `set logAnnounceInterval ${usual} on ${listNames(odd.map(({ name }) => name))}`,
  };
}

function seconds(logInterval: number): string {
  return `${logInterval} (${2 ** logInterval} s)`;
}
