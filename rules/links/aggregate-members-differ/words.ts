import {
  byLabel,
  formatRate,
  linkLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
  carrierWords,
} from '../../../src/doors/rule.js';
import { linkRate } from '../../../src/doors/links.js';

export interface Facts {
  readonly links: NonEmpty<Link>;
  readonly by: 'rate' | 'vlans';
}

export function words({ links, by }: Facts): FindingWords {
  const rates = byLabel(links, linkLabel).map((link) => {
    const rate = linkRate(link);
    return `${linkLabel(link)} ${rate === undefined ? 'not stated' : formatRate(rate)}`;
  });
  return by === 'rate'
    ? {
        what: `${carrierWords(links)} has members of different rates: ${listNames(rates)}`,
        onAir:
          'switches leave members of another rate out of the aggregate, or waiting, so it carries less than planned',
        fix: 'give all members one rate',
      }
    : {
        what: `${carrierWords(links)} has members that carry different VLANs`,
        onAir:
          'an aggregate is one port to the switch: members with other VLANs stay out of it, or the VLAN works on some members and streams of it are lost on the others',
        fix: 'let all members carry the same VLANs, at both ends',
      };
}
