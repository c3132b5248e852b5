import {
  agree,
  formatAddress,
  groupsOf,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
  type NonEmpty,
} from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: NonEmpty<Leg>;
  /** The lighting universe that the first leg's group is. */
  readonly universe: number;
  readonly to: readonly Destination[];
}

export function words({ legs, universe, to }: Facts): FindingWords<string> {
  const count = groupsOf(legs).length;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(count, 'lies', 'lie')} in 239.255.0.0/16, where lighting data (sACN) has its universes: ${formatAddress(legs[0].group ?? 0)} is universe ${universe}`,
    onAir:
      "nothing until the venue's lighting shares a network with the rig; then dimmers get pictures or sound, and receivers get lighting data",
    fix: `move ${agree(count, 'it', 'each')} to a free group in ${destinationWords(to)}, or keep lighting off this network`,
    label: withGroup,
  };
}
