import { agree, listNames, withRig, type FindingWords, type Vlan } from '../../../src/doors/rule.js';

export interface Facts {
  /** The entries that become one VLAN, each with its id of today. */
  readonly entries: readonly { readonly vlan: Vlan; readonly id: number | undefined }[];
  /** The id to give to all, where there is one. */
  readonly id: number | undefined;
  /** Whether none of them has it today. */
  readonly isFree: boolean;
  /** Entries that get another id. */
  readonly changed: readonly Vlan[];
  /** Entries of other VLANs that are to give it up first. */
  readonly until: readonly Vlan[];
}

/** An entry that changes its id; the join. */
export type Note = { readonly id: number; readonly insteadOf: number } | 'join';

export function words({ entries, id, isFree, changed, until }: Facts): FindingWords<Note> {
  const names = listNames(entries.map(({ vlan }) => withRig(vlan)));
  const ids = entries.flatMap((one) => (one.id === undefined ? [] : [`${one.id} in ${one.vlan.rig.name}`]));
  const first =
    until.length === 0
      ? ''
      : `, once ${listNames(until.map(withRig))} ${agree(until.length, 'has', 'have')} given it up`;
  return {
    what: `${names} become one VLAN, but have different ids: ${listNames(ids)}`,
    onAir:
      'a switch tells VLANs by their ids: nothing of it passes the tie, and everything that one rig takes from the other is black or silent',
    fix:
      id === undefined
        ? 'free an id and give it to all of them, in the plans and on every switch'
        : `give ${listNames(changed.map(withRig))} id ${id}${isFree ? ', which is free,' : ''} in the plan and on every switch${first}`,
    label: (name, note) =>
      note === 'join' ? 'they become one here' : `${name}: ${note.id} instead of ${note.insteadOf}`,
  };
}
