import {
  counted,
  formatRate,
  legLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
  carrierWords,
} from '../../../src/doors/rule.js';
import { rateLabel, type PassingStream, type RateNote } from '../../../src/doors/capacity.js';

export interface Facts {
  readonly links: NonEmpty<Link>;
  /** Of the slowest member. */
  readonly memberBps: number;
  /** Streams that no member holds, the largest first. */
  readonly streams: NonEmpty<PassingStream>;
}

export function words({ links, memberBps, streams }: Facts): FindingWords<RateNote> {
  const [{ rateBps }] = streams;
  return {
    what: `${carrierWords(links)} has ${formatRate(memberBps)} a member, and ${counted(streams.length, 'stream')} of up to ${formatRate(rateBps)} (${listNames(
      streams.map(({ leg }) => legLabel(leg)),
      3,
    )}) must cross it on one of them`,
    onAir:
      'the switch keeps each stream to one member, however many there are: that member drops packets of the stream and of every other on it, from the first second',
    fix: `use members of more than ${formatRate(rateBps)} each, or send a smaller format across`,
    label: rateLabel,
  };
}
