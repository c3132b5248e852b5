import { legLabel, listNames, type FindingWords, type Leg, moveWords, type Moves } from '../../../src/doors/rule.js';
import { groupWords, withGroup, type EmbeddedPrefixFault } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** Unicast prefixes in the groups. */
  readonly prefixes: readonly string[];
  /** Why nobody can own them; absent where somebody else may. */
  readonly fault: EmbeddedPrefixFault | undefined;
  readonly moves: Moves;
}

export function words({ legs, prefixes, fault, moves }: Facts): FindingWords<string> {
  const count = prefixes.length;
  const carry = count > 1 ? 'carry the prefixes' : 'carries the prefix';
  const whose =
    fault === undefined
      ? "which the plan does not list among the rig's own"
      : `${FAULTS[fault]}, so nobody can own ${count > 1 ? 'them' : 'it'}`;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${carry} ${listNames(prefixes)}, ${whose}`,
    onAir:
      fault === undefined
        ? 'nothing while the rig stands alone; on a network shared with the holder, receivers get both streams and the picture breaks up'
        : 'nothing while the rig stands alone; a second rig with the same habit and the same private addresses collides with it when the two are joined',
    fix: `${moveWords(moves)}${fault === undefined ? '; if the rig holds the prefix, list it under `conventions: {prefixes: […]}`' : ''}`,
    label: withGroup,
  };
}

const FAULTS: Readonly<Record<EmbeddedPrefixFault, string>> = {
  'private-use': 'private addresses',
  loopback: 'loopback addresses',
  multicast: 'itself multicast',
  'link-local': 'link-local addresses',
  'not-global': 'set aside for a special purpose',
};
