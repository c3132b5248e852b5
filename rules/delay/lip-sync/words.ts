import { listNames, millisecondWords, type FindingWords, type Sender } from '../../../src/lint/rule.js';

export interface Facts {
  readonly pair: string;
  /** The device both are watched at. */
  readonly receivedAt: string;
  /** Sound before picture; negative when it comes after. */
  readonly leadNs: number;
  /** Parts of the delays are not stated. */
  readonly atLeast: boolean;
  readonly pictureNs: number;
  readonly soundNs: number;
  /** The limits it breaks: the wider ones of ITU-R BT.1359-1, or those of EBU R 37 alone. */
  readonly limits: 'r37' | 'bt1359';
  readonly detectable: boolean;
  /** The stream that is too soon, where it leaves first. */
  readonly delayAt: Sender | undefined;
  /** Streams of the part that is too late. */
  readonly slow: readonly Sender[];
}

/** The mark of the pair is noted with `leadNs`. */
export function words(facts: Facts): FindingWords<number> {
  const { pair, receivedAt, leadNs, atLeast, pictureNs, soundNs, limits, detectable, delayAt, slow } = facts;
  const early = leadNs > 0;
  const by = millisecondWords(Math.abs(leadNs));
  return {
    what:
      `sound of ${pair} comes ${atLeast ? 'at least ' : ''}${by} ${early ? 'before' : 'after'} its picture ` +
      `at ${receivedAt}: picture ${millisecondWords(pictureNs)}, sound ${millisecondWords(soundNs)}; ` +
      `allowed is ${limits === 'bt1359' ? '90 ms before to 185 ms after at the very most' : '40 ms before to 60 ms after'}`,
    onAir: detectable
      ? 'viewers see that lips and sound do not go together, all the time'
      : 'hardly seen by itself, but nothing is left for what comes after, and then it is seen',
    fix:
      `delay ${early ? 'sound' : 'the picture'} by ${by}, best where ${delayAt?.label ?? 'it'} leaves, ` +
      `or take the delay out of ${listNames(slow.map(({ label }) => label))}`,
    label: (name, lead) => `${name}: sound ${millisecondWords(Math.abs(lead))} ${lead > 0 ? 'early' : 'late'}`,
  };
}
