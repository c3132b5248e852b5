import {
  agree,
  nothingOf,
  type FindingWords,
  type Leg,
  type Sender,
  moveWords,
  type Moves,
} from '../../../src/doors/rule.js';
import { groupWords, withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly sender: Sender;
  readonly legs: readonly Leg[];
  /** All are the unspecified address: nobody has given the stream a group. */
  readonly empty: boolean;
  readonly ipv4: boolean;
  readonly moves: Moves;
}

export function words({ sender, legs, empty, ipv4, moves }: Facts): FindingWords<string> {
  const groups = `${groupWords(legs)} of ${sender.label}`;
  return {
    what: empty
      ? `${groups} is the address of nothing: nobody has given this stream a group yet`
      : `${groups} ${agree(legs.length, 'is', 'are')} outside ${ipv4 ? '224.0.0.0-239.255.255.255' : 'ff00::/8'}, so no receiver can join`,
    onAir: `${nothingOf([sender])} at any receiver: the sender sends nothing, or sends to a single host`,
    fix: `${moveWords(moves, 'give')}${empty ? '' : '; if one host is meant, write its address as `unicast` instead of `group`'}`,
    label: withGroup,
  };
}
