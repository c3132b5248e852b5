/** 802.1Q VLAN ids: which there are, and which are free. */
import type { Plan } from '../../plan/types.js';

/** IEEE 802.1Q-2022 §9.6: 0 and 4095 are not for VLANs. */
export const LOWEST_VLAN_ID = 1;
export const HIGHEST_VLAN_ID = 4094;

export function isVlanId(id: number): boolean {
  return Number.isInteger(id) && id >= LOWEST_VLAN_ID && id <= HIGHEST_VLAN_ID;
}

/** Gives ids above all that are stated, none twice. Ask in an order that does not depend on how the plan is ordered. */
export function createFreeVlanIds(plan: Pick<Plan, 'vlans'>): () => number | undefined {
  const taken = new Set(plan.vlans.map((vlan) => vlan.id));
  const highest = plan.vlans.reduce(
    (most, { id }) => (id !== undefined && id < HIGHEST_VLAN_ID && id > most ? id : most),
    1,
  );
  let next = highest + 1;
  return () => {
    while (next <= HIGHEST_VLAN_ID && taken.has(next)) next++;
    return next > HIGHEST_VLAN_ID ? undefined : next++;
  };
}

/**
 * Gives the free id nearest to one that is out of range, none twice; 1 is left out, for it is the VLAN every port starts
 * in.
 */
export function createNearestVlanIds(plan: Pick<Plan, 'vlans'>): (id: number) => number | undefined {
  const taken = new Set(plan.vlans.map((vlan) => vlan.id));
  return (id) => {
    const low = id < LOWEST_VLAN_ID;
    const step = low ? 1 : -1;
    for (
      let free = low ? LOWEST_VLAN_ID + 1 : HIGHEST_VLAN_ID;
      free > LOWEST_VLAN_ID && free <= HIGHEST_VLAN_ID;
      free += step
    ) {
      if (taken.has(free)) continue;
      taken.add(free);
      return free;
    }
    return undefined;
  };
}
