import { agree, groupsOf, legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { allCounted, freeMoveWords, groupWords, withGroup, type FreeMoves } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** Ethernet addresses of the groups. */
  readonly macs: readonly string[];
  readonly ipv4: boolean;
  readonly where: string;
  readonly moves: FreeMoves;
}

export function words({ legs, macs, ipv4, where, moves }: Facts): FindingWords<string> {
  const addresses = ipv4
    ? `the Ethernet ${agree(macs.length, 'address')} ${listNames(macs, 4)}, as 224.0.0.0/24 has`
    : `the Ethernet address ${listNames(macs)}, as ff02::1 has`;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(groupsOf(legs).length, 'has', 'have')} ${addresses}, which switches send to every port`,
    onAir: `every port of ${where} carries ${allCounted(legs.length, 'stream')}, joined or not: slow ports fill up and drop packets, first on control and intercom boxes`,
    fix: freeMoveWords(moves, ipv4 ? ', other than x.0.0.y and x.128.0.y' : ''),
    label: withGroup,
  };
}
