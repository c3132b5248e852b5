import {
  agree,
  groupsOf,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  moveWords,
  type Moves,
} from '../../../src/doors/rule.js';
import { groupWords, withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  readonly moves: Moves;
}

export function words({ legs, moves }: Facts): FindingWords<string> {
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(groupsOf(legs).length, 'is', 'are')} set aside for examples in documents, likely copied from one`,
    onAir:
      'it works until something drops example addresses, as networks that carry the feed onwards do: the stream then never arrives there',
    fix: moveWords(moves),
    label: withGroup,
  };
}
