import { legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** As the address space of IPv6 groups names them, with their clause. */
  readonly faults: readonly { readonly kind: string; readonly title: string; readonly citation: string }[];
  /** Routers drop the group. */
  readonly dropped: boolean;
  readonly to: readonly Destination[];
}

export function words({ legs, faults, dropped, to }: Facts): FindingWords<string> {
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} is malformed: ${listNames(faults.map(({ title, citation }) => `${title} (${citation})`))}`,
    onAir: dropped
      ? 'routers refuse it: receivers in other VLANs stay black'
      : 'it works on some gear; devices and routers that check the address refuse it, and there the stream never arrives',
    fix: `move it to a free group in ${destinationWords(to)}`,
    label: withGroup,
  };
}
