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
import { groupWords, withGroup, type GroupBlock } from '../../../src/doors/groups.js';

export interface Facts {
  readonly legs: readonly Leg[];
  /** The block of RFC 5771, by its name there. */
  readonly block: { readonly kind: GroupBlock['kind']; readonly title: string; readonly range: string };
  readonly moves: Moves;
}

export function words({ legs, block, moves }: Facts): FindingWords<string> {
  return {
    what: `${groupWords(legs)} of ${listNames(legs.map(legLabel))} ${agree(groupsOf(legs).length, 'lies', 'lie')} in ${blockWords(block)}, ${meaning(block.kind)}`,
    onAir: onAir(block.kind),
    fix: moveWords(moves),
    label: withGroup,
  };
}

/** `the reserved block 225.0.0.0-231.255.255.255`; stands in subjects too. */
export function blockWords({ kind, title, range }: Facts['block']): string {
  return kind === 'reserved' ? `the reserved block ${range}` : `${title} ${range}`;
}

function meaning(kind: GroupBlock['kind']): string {
  if (kind === 'ad-hoc') return 'where each group is assigned to somebody by name';
  if (kind === 'sdp-sap') return 'which is for sessions announced by SAP';
  return kind === 'dis-transient' ? 'which is for simulators' : 'which nobody may use';
}

function onAir(kind: GroupBlock['kind']): string {
  const owner = OWNERS[kind];
  return owner === undefined
    ? 'switches and routers mostly pass it, but a device may refuse to be set to such a group, and there the stream never plays'
    : `it works until ${owner}: receivers then take in both streams`;
}

const OWNERS: Partial<Record<GroupBlock['kind'], string>> = {
  'ad-hoc': 'the owner of the group is on the same network',
  'sdp-sap': 'a program that announces its sessions picks the same group',
  'dis-transient': 'a simulator sends to the same group',
};
