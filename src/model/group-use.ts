import type { Address } from '../plan/address.js';
import type { Leg, Plan } from '../plan/types.js';
import type { Domain, Domains } from './domains.js';

/** One group in one reachability domain, with the sender legs that use it. */
export interface GroupUse {
  readonly group: Address;
  readonly domain: Domain;
  /** In plan order, at least one. */
  readonly legs: readonly Leg[];
}

/** Every group in every reachability domain it is sent in, in plan order. */
export function buildGroupUse(plan: Plan, domains: Domains): readonly GroupUse[] {
  const all: GroupUse[] = [];
  // Nearly every group is used in one domain only, so the domains of a group are a short chain behind one lookup.
  const byGroup = new Map<Address, Chained>();
  for (const leg of plan.legs) {
    const { group } = leg;
    if (group === undefined) continue;
    const domain = domains.reach(leg);
    const first = byGroup.get(group);
    let at = first;
    while (at !== undefined && at.use.domain !== domain) at = at.next;
    if (at !== undefined) {
      at.legs.push(leg);
      continue;
    }
    const legs = [leg];
    const use: GroupUse = { group, domain, legs };
    all.push(use);
    if (first === undefined) byGroup.set(group, { use, legs, next: undefined });
    else first.next = { use, legs, next: first.next };
  }
  return all;
}

interface Chained {
  readonly use: GroupUse;
  readonly legs: Leg[];
  next: Chained | undefined;
}
