import { agree, groupsOf, legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  readonly mac: string;
  /** The group of the clock's messages, and their protocol. */
  readonly clockGroup: string;
  /** Its last two numbers, which all groups of its multicast MAC end in. */
  readonly clockGroupEnd: readonly [number, number];
  readonly protocol: string;
  readonly where: string;
  readonly to: readonly Destination[];
}

export function words({ legs, mac, clockGroup, clockGroupEnd, protocol, where, to }: Facts): FindingWords<string> {
  const count = groupsOf(legs).length;
  const tail = clockGroupEnd.join('.');
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(count, 'shares', 'share')} the multicast MAC ${mac} with ${clockGroup}, the group of ${protocol}`,
    onAir: `every device that follows ${protocol} in ${where} takes the stream in wherever a switch or network card goes by multicast MAC: clocks get late or lost messages, and sound and picture timing drifts`,
    fix: `move ${agree(count, 'it', 'each')} to a free group in ${destinationWords(to)}, other than x.0.${tail} and x.128.${tail}`,
    label: withGroup,
  };
}
