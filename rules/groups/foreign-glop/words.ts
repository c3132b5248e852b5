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
  /** The autonomous system the groups belong to; 0 is nobody's. */
  readonly system: number;
  /** The rig's own. */
  readonly own: number | undefined;
  /** The block of the rig's own system, or where else the groups belong. */
  readonly to: Moves | { readonly block: string };
}

export function words({ legs, system, own, to }: Facts): FindingWords<string> {
  const count = groupsOf(legs).length;
  const ours = own === undefined ? 'the plan states no AS number of its own' : `this rig holds AS ${own}`;
  const whose = system === 0 ? 'AS 0, which nobody holds' : `the holder of AS ${system}; ${ours}`;
  const move = 'block' in to ? `move ${agree(count, 'it', 'each')} to a free group in ${to.block}` : moveWords(to);
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(count, 'belongs', 'belong')} to ${whose}`,
    onAir:
      system === 0
        ? 'nothing while the rig stands alone; other networks drop the group, and a feed over them never arrives'
        : 'nothing while the rig stands alone; on a network shared with the holder, receivers get both streams and the picture breaks up',
    fix: `${move}${system === 0 || own !== undefined ? '' : `; if the rig holds AS ${system}, state \`conventions: {autonomousSystem: ${system}}\``}`,
    label: withGroup,
  };
}
