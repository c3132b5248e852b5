import { formatTime, type FindingWords } from '../../../src/doors/rule.js';
import { delayWords, type Delay } from '../../../src/doors/delay.js';

export interface Facts {
  /** The limit that is passed: three of speech, one of the own voice that comes back. */
  readonly form: 'planning' | 'conversation' | 'intercom' | 'own voice';
  /** Of one way; of the own voice there and back. */
  readonly limitNs: number;
  readonly trip: string;
  readonly there: Delay;
  readonly back: Delay;
}

export function words(facts: Facts): FindingWords<'sums'> {
  const { form, trip, there, back } = facts;
  return {
    what: `${trip}: ${form === 'own voice' ? echoWords(facts) : speechWords(facts)}`,
    onAir: ON_AIR[form],
    fix:
      form === 'own voice'
        ? 'send back a mix without their own voice, and let their box give it to them'
        : 'take delay out of the slower direction, first its longest part (`rigproof delay` lists them)',
    label: (name) => `${name}: ${delayWords(there)} there, ${delayWords(back)} back`,
  };
}

const ON_AIR: Readonly<Record<Facts['form'], string>> = {
  planning: 'nobody can talk to the other end: both start, both stop, and cues come too late to be of use',
  conversation: 'people talk across each other, and cues come audibly late',
  intercom: 'cues come late, which those who count a crew in notice',
  'own voice': 'whoever speaks hears an echo of their own voice, slows down and stumbles',
};

function echoWords({ there, back, limitNs }: Facts): string {
  const sum = { ns: there.ns + back.ns, isLeast: there.isLeast || back.isLeast };
  return `one's own voice comes back after ${delayWords(sum)}; above ${formatTime(limitNs)} it is heard as an echo`;
}

function speechWords({ form, there, back, limitNs }: Facts): string {
  const takes = `speech takes ${delayWords(there)} there and ${delayWords(back)} back`;
  const limit = formatTime(limitNs);
  if (form === 'planning') return `${takes}; neither direction may take more than ${limit}`;
  return form === 'conversation'
    ? `${takes}; above ${limit} a way people talk across each other`
    : `${takes}; crews keep intercom within ${limit} a way`;
}
