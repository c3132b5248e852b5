import { formatTime, millisecondWords, type FindingWords } from '../../../src/lint/rule.js';

/** The limit that is broken: of ITU-T G.114 twice, of the crew's intercom, of one's own voice. */
export type Limit = 'planning' | 'conversation' | 'intercom' | 'own-voice';

export interface Way {
  readonly totalNs: number;
  /** Parts of it are not stated. */
  readonly atLeast: boolean;
}

export interface Facts {
  readonly trip: string;
  readonly limit: Limit;
  readonly limitNs: number;
  readonly there: Way;
  readonly back: Way;
  readonly totalNs: number;
}

export function words(facts: Facts): FindingWords<{ readonly there: Way; readonly back: Way }> {
  const { trip, limit, there, back } = facts;
  return {
    what: `${trip}: ${limit === 'own-voice' ? echo(facts) : `speech takes ${wayWords(there)} there and ${wayWords(back)} back; ${allowed(limit, facts.limitNs)}`}`,
    onAir: ON_AIR[limit],
    fix:
      limit === 'own-voice'
        ? 'send back a mix without their own voice, and let their box give it to them'
        : 'take delay out of the slower way, first its longest part (`rigproof delay` lists them)',
    label: (name, ways) => `${name}: ${wayWords(ways.there)} there, ${wayWords(ways.back)} back`,
  };
}

const ON_AIR: Readonly<Record<Limit, string>> = {
  planning: 'nobody can talk to the other end: both start, both stop, and cues come too late to be of use',
  conversation: 'people talk across each other, and cues come audibly late',
  intercom: 'cues come late, which those who count a crew in notice',
  'own-voice': 'whoever speaks hears an echo of their own voice, slows down and stumbles',
};

function allowed(limit: Exclude<Limit, 'own-voice'>, limitNs: number): string {
  switch (limit) {
    case 'planning':
      return `no way may take more than ${formatTime(limitNs)}`;
    case 'conversation':
      return `above ${formatTime(limitNs)} a way people talk across each other`;
    case 'intercom':
      return `crews keep intercom within ${formatTime(limitNs)} a way`;
  }
}

function echo({ there, back, totalNs, limitNs }: Facts): string {
  const gaps = there.atLeast || back.atLeast ? 'at least ' : '';
  return `one's own voice comes back after ${gaps}${millisecondWords(totalNs)}; above ${formatTime(limitNs)} it is heard as an echo`;
}

function wayWords({ totalNs, atLeast }: Way): string {
  return `${atLeast ? 'at least ' : ''}${millisecondWords(totalNs)}`;
}
