import { groupBy } from '../../collections/group-by.js';
import type { Address } from '../../values/address.js';
import type { Leg, Plan } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import type { GroupRepeats } from './group-repeats.js';

/** One group in one reachability domain, with the sender legs that use it. */
export interface GroupUse {
  readonly group: Address;
  readonly domain: Domain;
  /** In plan order, at least one. */
  readonly legs: readonly Leg[];
  /** Uses that nothing joins today, where they are in one network as meant. */
  readonly parts?: readonly GroupUse[];
}

export interface GroupIndex {
  /** Groups that several legs use in one domain, in plan order. */
  readonly shared: readonly GroupUse[];
  /** The same over networks as they are meant: a VLAN that a trunk cuts in parts is one. */
  readonly sharedAsMeant: readonly GroupUse[];
  /** How a group is used in a domain; undefined when nobody sends it there. The same object every time. */
  readonly find: (domain: Domain, group: Address) => GroupUse | undefined;
  /** How a group is used everywhere it is sent. */
  readonly usesOf: (group: Address) => readonly GroupUse[];
  /** Whether any group is sent in a domain. */
  readonly anySentIn: (domain: Domain) => boolean;
}

/**
 * Which legs use which group where. Nearly every group of a sound plan is used by one leg, so groups that come once are
 * looked up only when somebody asks for a group, and a use is made only where there are several or one is asked for.
 */
export function buildGroupIndex(plan: Plan, domains: Domains, repeats: GroupRepeats): GroupIndex {
  const byGroup = new Map<Address, Leg | GroupUse[]>();
  const shared = new Set<GroupUse>();
  if (!repeats.none) {
    for (const leg of plan.legs) {
      const { group } = leg;
      if (group !== undefined && repeats.mayRepeat(group)) add(leg, group);
    }
  }
  let complete = false;
  const all = (group: Address): readonly GroupUse[] => {
    if (!complete) {
      complete = true;
      for (const leg of plan.legs)
        if (leg.group !== undefined && !repeats.mayRepeat(leg.group)) byGroup.set(leg.group, leg);
    }
    const known = byGroup.get(group);
    if (known === undefined) return [];
    const uses = usesOf(known, domains);
    if (uses !== known) byGroup.set(group, uses);
    return uses;
  };
  let asMeant: readonly GroupUse[] | undefined;
  let sentIn: Set<Domain> | undefined;
  return {
    shared: [...shared],
    get sharedAsMeant() {
      return (asMeant ??= [...byGroup.values()].flatMap((known) =>
        Array.isArray(known) ? joinParts(known, domains) : [],
      ));
    },
    find: (domain, group) => all(group).find((one) => one.domain === domain),
    usesOf: all,
    anySentIn: (domain) => {
      sentIn ??= new Set(plan.legs.filter((leg) => leg.group !== undefined).map((leg) => domains.reach(leg)));
      return sentIn.has(domain);
    },
  };

  function add(leg: Leg, group: Address): void {
    const known = byGroup.get(group);
    if (known === undefined) {
      byGroup.set(group, leg);
      return;
    }
    const uses = usesOf(known, domains);
    if (uses !== known) byGroup.set(group, uses);
    const domain = domains.reach(leg);
    const use = uses.find((one) => one.domain === domain);
    if (use === undefined) uses.push({ group, domain, legs: [leg] });
    else {
      (use.legs as Leg[]).push(leg);
      shared.add(use);
    }
  }
}

/** Uses of one group by several legs; those in one network as meant as one. */
function joinParts(uses: readonly GroupUse[], domains: Domains): readonly GroupUse[] {
  const [first] = uses;
  if (first === undefined || uses.length === 1) return uses.filter(({ legs }) => legs.length > 1);
  const networks = groupBy(uses, ({ legs: [leg], domain }) => (leg === undefined ? domain : domains.meant(leg)));
  return [...networks].flatMap(([domain, parts]): readonly GroupUse[] => {
    if (parts.length === 1) return parts.filter(({ legs }) => legs.length > 1);
    return [{ group: first.group, domain, legs: parts.flatMap(({ legs }) => legs), parts }];
  });
}

function usesOf(known: Leg | GroupUse[], domains: Domains): GroupUse[] {
  if (Array.isArray(known)) return known;
  return known.group === undefined ? [] : [{ group: known.group, domain: domains.reach(known), legs: [known] }];
}
