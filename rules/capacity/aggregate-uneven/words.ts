import {
  counted,
  formatRate,
  type FindingWords,
  type Link,
  type NonEmpty,
  carrierWords,
} from '../../../src/doors/rule.js';
import { atLeastWords, rateLabel, type RateNote } from '../../../src/doors/capacity.js';

export interface Facts {
  readonly links: NonEmpty<Link>;
  /** Of the slowest member. */
  readonly memberBps: number;
  /** Of the busier direction, on all members together. */
  readonly loadBps: number;
  /** Streams of unknown rate pass too. */
  readonly atLeast: boolean;
  readonly rateBps: number;
  readonly streams: number;
}

export function words({ links, memberBps, loadBps, atLeast, rateBps, streams }: Facts): FindingWords<RateNote> {
  return {
    what: `${carrierWords(links)} carries ${atLeastWords(atLeast)}${formatRate(loadBps)} of ${formatRate(rateBps)} as ${counted(streams, 'stream')}, and the worst case is all of it on one member of ${formatRate(memberBps)}`,
    onAir:
      'the switch picks a member for each stream and knows nothing of its rate: whether one overflows is luck, and a member that fails or comes back redistributes them all',
    fix: `use one link, or members, that hold ${formatRate(loadBps)} each; or try out at staging which stream takes which member, in both directions`,
    label: rateLabel,
  };
}
