import { legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { destinationWords, groupWords, withGroup, type Destination } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  readonly ipv4: boolean;
  /** Whose group it is. */
  readonly protocol: string | undefined;
  readonly to: readonly Destination[];
}

export function words({ legs, ipv4, protocol, to }: Facts): FindingWords<string> {
  const seen = ipv4
    ? 'switches send it to every port of the VLAN, joined or not, so slow ports drop packets'
    : 'every host that listens to the protocol gets the stream';
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} lies in ${ipv4 ? '224.0.0.0/24' : 'ff02::/16'}, which is for the control protocols of the link${protocol === undefined ? '' : `; this one is ${protocol}'s`}`,
    onAir: `${seen}; no router ever passes it on, so receivers in other VLANs stay black`,
    fix: `move it to a free group in ${destinationWords(to)}`,
    label: withGroup,
  };
}
