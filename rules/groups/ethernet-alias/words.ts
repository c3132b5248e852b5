import {
  agree,
  formatAddress,
  groupsOf,
  legLabel,
  listNames,
  type FindingWords,
  type Leg,
} from '../../../src/doors/rule.js';
import { groupMoveWords, type GroupMoveFact, withGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  readonly mac: string;
  readonly where: readonly string[];
  readonly ipv4: boolean;
  /** Switches there that tell groups apart by multicast MAC only. */
  readonly switches: readonly string[];
  /** Those that do not say; taken to do so where none says it does. */
  readonly silent: readonly string[];
  /** Who gets which group, the other leg of a pair too; empty where none is free. */
  readonly moves: readonly GroupMoveFact[];
}

/** The group of a leg, or that it is the one to move. */
export type Note = 'move' | (string & {});

export function words({ legs, mac, where, ipv4, switches, silent, moves }: Facts): FindingWords<Note> {
  const groups = listNames(groupsOf(legs).map(formatAddress));
  const share = ipv4 ? '32 groups share each one' : 'all groups with the same last 32 bits do';
  const differ = ipv4
    ? 'last 23 bits differ: another last or third number, not only another first one'
    : 'last 32 bits differ';
  return {
    what: `groups ${groups} share the multicast MAC ${mac} in ${listNames(where, 3)} (${share}): ${listNames(legs.map(legLabel))}`,
    onAir:
      switches.length > 0
        ? `${listNames(switches)} ${agree(switches.length, 'tells', 'tell')} groups apart by multicast MAC only: a port that joined one gets all of them, and when it leaves one the others may stop`
        : `receivers of one get the others' packets if ${keyWords(silent)} by multicast MAC, as \`snoopingKey\` does not say: extra load, and dropped packets on a full port`,
    fix:
      moves.length === 0
        ? `change one of ${groups} so that the ${differ}`
        : `${groupMoveWords(moves, legs)}, so that the ${differ}`,
    label: (name, note) => (note === 'move' ? `${name}: give this one another group` : withGroup(name, note)),
  };
}

function keyWords(silent: readonly string[]): string {
  return silent.length === 0
    ? 'a switch tells groups apart'
    : `${listNames(silent, 3)} ${agree(silent.length, 'tells', 'tell')} groups apart`;
}
