import { carrierWords, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { PartedAggregate } from '../../../src/doors/links.js';

export type Facts = Pick<PartedAggregate, 'name' | 'links' | 'ends' | 'why'>;

export function words({ links, ends, why }: Facts): FindingWords {
  const names = listNames(ends.map((end) => end.map(({ name }) => name).join(' with ')));
  const what = `${carrierWords(links)} joins ${ends.length} ends: ${names}`;
  return why === 'unsaid'
    ? {
        what: `${what}; no two of them are said to act as one switch, and they are taken not to`,
        onAir:
          'switches take into an aggregate only members that lead to one and the same switch: the others stay out or waiting, and without a spanning tree they may make a loop',
        fix: 'give the two far switches one `pair` where they act as one, else let all members end at one switch',
      }
    : {
        what: `${what}, which cannot be two even with a pair of switches that act as one`,
        onAir:
          'members that lead to another switch stay out of the aggregate, or each is up by itself and they make a loop that floods every port',
        fix: 'let all members run between two switches, or between such and one pair of switches that act as one',
      };
}
