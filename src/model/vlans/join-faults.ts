/** Joins that make VLANs of one rig one, and joins that tie nothing to nothing. */
import { append, groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Join, Network, Plan, Vlan } from '../../plan/types.js';
import { joinClasses } from './joined-vlans.js';

/** VLANs that joins make one, among them several of one rig. */
export interface MergedVlans {
  /** Those that have another one of their rig among them. */
  readonly merged: NonEmpty<Vlan>;
  /** The others. */
  readonly through: readonly Vlan[];
  readonly joins: NonEmpty<Join>;
}

export function mergedVlans(plan: Plan): readonly MergedVlans[] {
  const joinsOf = joinsByVlan(plan);
  return joinClasses(plan).flatMap((vlans): readonly MergedVlans[] => {
    const ofRig = groupBy(vlans, ({ rig }) => rig);
    const isMerged = ({ rig }: Vlan): boolean => (ofRig.get(rig)?.length ?? 0) > 1;
    const merged = vlans.filter(isMerged);
    const joins = [...new Set(vlans.flatMap((vlan) => joinsOf.get(vlan) ?? []))];
    if (!isNonEmpty(merged) || !isNonEmpty(joins)) return [];
    return [{ merged, through: vlans.filter((vlan) => !isMerged(vlan)), joins }];
  });
}

function joinsByVlan({ joins }: Plan): ReadonlyMap<Vlan, readonly Join[]> {
  const found = new Map<Vlan, [Join, ...Join[]]>();
  for (const join of joins) for (const vlan of new Set(join.vlans)) append(found, vlan, join);
  return found;
}

/** A join that names one thing only, or things of one rig. */
export interface IdleJoin {
  readonly join: Join;
  readonly key: 'vlans' | 'networks';
  /** Each once. */
  readonly named: NonEmpty<Vlan | Network>;
}

/** Where a name leads nowhere, `plan/unknown-reference` says so; joins of `merged` are a fault of their own. */
export function idleJoins({ joins }: Plan, merged: readonly MergedVlans[]): readonly IdleJoin[] {
  const told = new Set(merged.flatMap((one) => one.joins));
  return joins
    .filter((join) => !told.has(join))
    .flatMap((join) =>
      (['vlans', 'networks'] as const).flatMap((key): readonly IdleJoin[] => {
        const written: unknown = Reflect.get(join.origin.container, key);
        if (!Array.isArray(written) || written.length !== join[key].length) return [];
        const named = [...new Set<Vlan | Network>(join[key])];
        if (!isNonEmpty(named) || named.some(({ rig }) => rig !== named[0].rig)) return [];
        return [{ join, key, named }];
      }),
    );
}
