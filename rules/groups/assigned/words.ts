import { legLabel, listNames, type FindingWords, type Leg, moveWords, type Moves } from '../../../src/doors/rule.js';
import { groupWords, withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** Who holds the group, and the name in the registry; absent for a free one of the Internetwork Control Block. */
  readonly owner: { readonly protocol: string; readonly registered: string } | undefined;
  readonly moves: Moves;
}

export function words({ legs, owner, moves }: Facts): FindingWords<string> {
  const whose =
    owner === undefined
      ? 'lies in 224.0.1.0/24, the Internetwork Control Block, which is for control protocols'
      : `belongs to ${owner.protocol}${owner.registered === owner.protocol ? '' : ` (registered as "${owner.registered}")`}`;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${whose}`,
    onAir: onAir(owner?.protocol),
    fix: moveWords(moves),
    label: withGroup,
  };
}

function onAir(protocol: string | undefined): string {
  if (protocol === undefined)
    return 'gear that treats the block as control traffic handles or drops the stream as such; a protocol that is given this group later runs into it';
  if (protocol === 'PTP' || protocol === 'NTP')
    return `every device that follows ${protocol} gets the stream as well: clocks lose messages and drift, and slow ports fill up`;
  return "every device that speaks the protocol gets the stream and tries to read it, and receivers of the stream get the protocol's messages among its packets";
}
