import { listNames, type FindingWords, type Sender } from '../../../src/doors/rule.js';
import { delayWords, milliseconds } from '../../../src/doors/delay.js';

export interface Facts {
  readonly pair: string;
  /** The device where the two are together. */
  readonly at: string;
  /** By how much sound comes before the picture; minus: after it. */
  readonly leadNs: number;
  /** The plan leaves parts of the delay open: it is at least this much. */
  readonly isLeast: boolean;
  readonly pictureNs: number;
  readonly soundNs: number;
  /** The limit that is passed. */
  readonly limit: 'EBU R 37' | 'ITU-R BT.1359-1';
  readonly isSeen: boolean;
  /** The last stream of what is early, where it is best delayed. */
  readonly last: Sender;
  /** The streams of what is late. */
  readonly late: readonly Sender[];
}

export function words(facts: Facts): FindingWords<'lead'> {
  const { pair, at, leadNs, isLeast, pictureNs, soundNs, limit, isSeen, last, late } = facts;
  const early = leadNs > 0;
  const ns = Math.abs(leadNs);
  return {
    what:
      `sound of ${pair} comes ${delayWords({ ns, isLeast })} ${early ? 'before' : 'after'} its picture ` +
      `at ${at}: picture ${milliseconds(pictureNs)}, sound ${milliseconds(soundNs)}; allowed is ${LIMITS[limit]}`,
    onAir: isSeen
      ? 'viewers see that lips and sound do not go together, all the time'
      : 'hardly seen by itself, but nothing is left for what comes after, and then it is seen',
    fix:
      `delay ${early ? 'sound' : 'the picture'} by ${milliseconds(ns)}, best where ${last.label} leaves, ` +
      `or take the delay out of ${listNames(late.map(({ label }) => label))}`,
    label: (name) => `${name}: sound ${milliseconds(ns)} ${early ? 'early' : 'late'}`,
  };
}

const LIMITS = {
  'EBU R 37': '40 ms before to 60 ms after',
  'ITU-R BT.1359-1': '90 ms before to 185 ms after at the very most',
} as const;
