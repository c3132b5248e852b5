import { agree, groupsOf, legLabel, listNames, type FindingWords, type Leg } from '../../../src/doors/rule.js';
import { allCounted, freeMoveWords, groupWords, withGroup, type FreeMoves } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** Multicast MACs of the groups. */
  readonly macs: readonly string[];
  readonly ipv4: boolean;
  /** Switches that key their tables by multicast MAC, and those that do not say. */
  readonly byMac: readonly string[];
  readonly silent: readonly string[];
  readonly where: string;
  readonly moves: FreeMoves;
}

export function words({ legs, macs, ipv4, byMac, silent, where, moves }: Facts): FindingWords<string> {
  const addresses = ipv4
    ? `the Ethernet ${agree(macs.length, 'address')} ${listNames(macs, 4)}, as 224.0.0.0/24 has`
    : `the multicast MAC ${listNames(macs)}, as ff02::1 has`;
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(groupsOf(legs).length, 'has', 'have')} ${addresses}, which ${floodersWords(byMac, silent)}`,
    onAir: `every port of ${byMac.length > 0 ? `${listNames(byMac, 3)} in ${where}` : where} carries ${allCounted(legs.length, 'stream')}, joined or not: slow ports fill up and drop packets, first on control and intercom boxes`,
    fix: freeMoveWords(moves, ipv4 ? ', other than x.0.0.y and x.128.0.y' : ''),
    label: withGroup,
  };
}

/** Who floods them, or is taken to, as most makers answered (RFC 4541 §4). */
function floodersWords(byMac: readonly string[], silent: readonly string[]): string {
  if (byMac.length > 0)
    return `${listNames(byMac, 3)} ${agree(byMac.length, 'sends', 'send')} to every port, as ${agree(byMac.length, 'it keys its table', 'they key their tables')} by it`;
  return silent.length === 0
    ? 'switches that key their tables by it send to every port'
    : `${listNames(silent, 3)} ${agree(silent.length, 'is', 'are')} taken to send to every port, as \`snoopingKey\` does not say`;
}
