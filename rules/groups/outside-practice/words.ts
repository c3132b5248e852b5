import { agree, groupsOf, legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** Blocks the practice allows in this family. */
  readonly allowed: readonly string[];
  /** The document the practice follows. */
  readonly practice: string;
  readonly to: readonly Destination[];
}

export function words({ legs, allowed, practice, to }: Facts): FindingWords<string> {
  const count = groupsOf(legs).length;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(count, 'lies', 'lie')} outside ${allowed.length === 0 ? 'every block' : listNames(allowed, 3)} of this plan's practice (${practice})`,
    onAir: 'gear set up for the practice may refuse the group or treat it as another kind: its receivers stay black',
    fix: `move ${agree(count, 'it', 'each')} to a free group in ${destinationWords(to)}; if the block is meant, state it under \`practice\``,
    label: withGroup,
  };
}
