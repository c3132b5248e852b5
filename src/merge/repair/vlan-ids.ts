/** One id for VLANs that become one, and ids of their own for those that only look alike. */
import { addTo, append } from '../../collections/group-by.js';
import type { Plan, Rig, Switch, Vlan } from '../../plan/types.js';
import { vlansOfPort } from '../../model/vlans/index.js';
import type { EditList } from '../../edits/edit-list.js';

/** VLAN entries that are one VLAN. */
interface One {
  readonly vlans: readonly Vlan[];
  readonly rigs: ReadonlySet<Rig>;
  /** Switches that would have to be set up anew for an entry. */
  readonly work: ReadonlyMap<Vlan, number>;
}

const HIGHEST = 4094;

/**
 * Gives each VLAN of the site one id. The rig whose settings count keeps its ids; of the others the one that is most work
 * to change does. A new id keeps the last two digits where it can: 210 becomes 410.
 */
export function settleVlanIds(plan: Plan, counts: Rig, edits: EditList): void {
  const all = classes(plan);
  const stated = new Set(plan.vlans.flatMap(({ id }) => id ?? []));
  const taken = new Map<number, One[]>();
  const clashes = (id: number, one: One): boolean =>
    (taken.get(id) ?? []).some((other) => new Set([...other.rigs, ...one.rigs]).size > 1);
  const rank = (one: One): number => (one.rigs.has(counts) ? 0 : 1);
  const workOf = (one: One): number => [...one.work.values()].reduce((sum, work) => sum + work, 0);
  for (const one of [...all].sort((a, b) => rank(a) - rank(b) || workOf(b) - workOf(a))) {
    const wanted = wantedIds(one, counts);
    const [best] = wanted;
    if (best === undefined) continue;
    // What a rig holds apart stays apart: one id for both would make one VLAN of them on every switch that has both.
    if (joinsWithinRig(one)) {
      for (const id of wanted) append(taken, id, one);
      continue;
    }
    const id = wanted.find((own) => !clashes(own, one)) ?? freeId(best, stated);
    if (id === undefined) continue;
    stated.add(id);
    append(taken, id, one);
    for (const vlan of one.vlans) if (vlan.id !== undefined && vlan.id !== id) edits.set(vlan, 'id', id);
  }
}

function joinsWithinRig({ vlans }: One): boolean {
  const ids = new Map<Rig, number>();
  return vlans.some(({ rig, id }) => {
    if (id === undefined) return false;
    const other = ids.get(rig);
    ids.set(rig, id);
    return other !== undefined && other !== id;
  });
}

function classes(plan: Plan): readonly One[] {
  const switches = switchesOf(plan);
  const byClass = new Map<object, Vlan[]>();
  for (const vlan of plan.vlans) {
    const key = vlan.joinedAs ?? vlan;
    append(byClass, key, vlan);
  }
  return [...byClass.values()].map((vlans) => ({
    vlans,
    rigs: new Set(vlans.map(({ rig }) => rig)),
    work: new Map(vlans.map((vlan) => [vlan, Math.max(1, switches.get(vlan)?.size ?? 0)])),
  }));
}

function switchesOf(plan: Plan): ReadonlyMap<Vlan, ReadonlySet<Switch>> {
  const found = new Map<Vlan, Set<Switch>>();
  const add = (vlan: Vlan | undefined, one: Switch): void => {
    if (vlan === undefined) return;
    addTo(found, vlan, one);
  };
  for (const one of plan.switches) {
    for (const port of one.ports.values()) for (const vlan of vlansOfPort(port)) add(vlan, one);
    for (const held of one.addresses) add(held.vlan, one);
  }
  return found;
}

/** Ids the entries have, the one to keep first. */
function wantedIds({ vlans, work }: One, counts: Rig): readonly number[] {
  const ids = new Map<number, number>();
  for (const vlan of vlans) {
    if (vlan.id === undefined) continue;
    ids.set(vlan.id, (ids.get(vlan.id) ?? 0) + (work.get(vlan) ?? 0) + (vlan.rig === counts ? 1e9 : 0));
  }
  return [...ids].sort(([a, x], [b, y]) => y - x || a - b).map(([id]) => id);
}

function freeId(like: number, stated: ReadonlySet<number>): number | undefined {
  for (let id = like + 100; id <= HIGHEST; id += 100) if (!stated.has(id)) return id;
  for (let id = 2; id <= HIGHEST; id++) if (!stated.has(id)) return id;
  return undefined;
}
