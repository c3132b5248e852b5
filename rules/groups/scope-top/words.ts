import { legLabel, listNames, type FindingWords, type Leg, moveWords, type Moves } from '../../../src/doors/rule.js';
import { groupWords, withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** The last 256 groups of the scope. */
  readonly top: string;
  /** Whose group it is; absent where it is nobody's yet. */
  readonly protocol: string | undefined;
  readonly moves: Moves;
}

export function words({ legs, top, protocol, moves }: Facts): FindingWords<string> {
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} lies in ${top}, the top of a scope, where groups belong to protocols${protocol === undefined ? '' : `; this one is ${protocol}'s`}`,
    onAir:
      protocol === undefined
        ? 'nothing today; a protocol that is given this group later runs into the stream'
        : `every device that speaks ${protocol} gets the stream: slow ones stall, and discovery stops working`,
    fix: moveWords(moves),
    label: withGroup,
  };
}
