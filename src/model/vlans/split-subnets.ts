/**
 * VLANs in parts that hold addresses of one subnet: hosts of each take those of the others for neighbours, and no link and no
 * router leads from one to the other.
 */
import { addTo, append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byCodeUnit, byLabel } from '../../collections/order.js';
import type { Interface, Link, Plan, Switch, SwitchAddress, Vlan } from '../../plan/types.js';
import { createKnownCuts } from './cut-ways.js';
import type { Domain, Domains } from './domains.js';
import { missingLinks, servesHouse } from './missing-links.js';
import { mayCarry } from './trunks.js';

/** Who holds an address in a part, and the switch it hangs on. */
export interface Member {
  readonly holder: Interface | SwitchAddress;
  readonly on: Switch;
}

export interface SplitSubnet {
  readonly vlan: Vlan;
  /** The part with most members first; one switch of each is named by its first member. */
  readonly parts: NonEmpty<NonEmpty<Member>>;
  /** The links that do not carry it, on the ways from the largest part to the others. */
  readonly links: NonEmpty<Link>;
}

/**
 * One for a VLAN, in plan order. Silent where another fault of the same links is found, and where no links lead to a part.
 * `ofClocks`: VLANs with links that clocks miss them on, which a rule on timing names.
 */
export function splitSubnets(
  plan: Plan,
  domains: Domains,
  ofClocks: () => readonly { readonly vlan: Vlan; readonly links: readonly Link[] }[],
): readonly SplitSubnet[] {
  const split = [...membersByPart(plan, domains)].filter(([, parts]) => parts.size > 1);
  if (split.length === 0) return [];
  const ofStreams = new Set([...plan.legs, ...plan.receiverLegs].map(({ vlan }) => vlan));
  const missing = missingLinks(plan, domains);
  const isKnownCut = createKnownCuts(plan, domains, missing);
  const missedByClocks = new Map<Vlan, Set<Link>>();
  for (const { vlan, links } of ofClocks()) for (const link of links) addTo(missedByClocks, vlan, link);
  return split.flatMap(([vlan, byDomain]): readonly SplitSubnet[] => {
    // Streams may well stay where they are sent; what has to pass is followed.
    if (ofStreams.has(vlan) && !servesHouse(vlan)) return [];
    if (isOfRoutersAlone(vlan, byDomain.values())) return [];
    const parts = [...byDomain.values()]
      .map((members) => byLabel(members, ({ on }) => on.name))
      .toSorted((a, b) => b.length - a.length || byCodeUnit(a[0].on.name, b[0].on.name));
    if (!isNonEmpty(parts)) return [];
    const [[from], ...others] = parts;
    const links = new Set<Link>();
    const joined = others.filter(([to]) => {
      const way = missing(vlan, from.on, to.on) ?? [];
      const open = way.filter((link) => !isKnownCut(link, vlan) && missedByClocks.get(vlan)?.has(link) !== true);
      for (const link of open) links.add(link);
      return open.length > 0;
    });
    const all = [...links];
    return isNonEmpty(all) ? [{ vlan, parts: [parts[0], ...joined], links: all }] : [];
  });
}

/** Routers that do not meet are `routing/routers-apart`. */
function isOfRoutersAlone({ routing }: Vlan, parts: Iterable<readonly Member[]>): boolean {
  if ((routing?.routers.length ?? 0) === 0) return false;
  return [...parts].every((members) => members.every(({ holder }) => !('device' in holder)));
}

/** Those whose place is stated, in VLANs that have a subnet. */
function membersByPart(plan: Plan, domains: Domains): ReadonlyMap<Vlan, ReadonlyMap<Domain, NonEmpty<Member>>> {
  const found = new Map<Vlan, Map<Domain, [Member, ...Member[]]>>();
  const add = (vlan: Vlan, domain: Domain | undefined, member: Member): void => {
    if (domain === undefined || (vlan.subnet ?? vlan.subnet6) === undefined) return;
    append(
      kept(found, vlan, () => new Map<Domain, [Member, ...Member[]]>()),
      domain,
      member,
    );
  };
  for (const one of plan.interfaces) {
    const { vlan, port, address, address6, dhcp } = one;
    if (vlan === undefined || port === undefined || !mayCarry(port, vlan)) continue;
    if (address === undefined && address6 === undefined && !dhcp) continue;
    add(vlan, domains.onSwitch(port.switch, vlan), { holder: one, on: port.switch });
  }
  for (const one of plan.switches)
    for (const held of one.addresses)
      if (held.vlan !== undefined) add(held.vlan, domains.onSwitch(one, held.vlan), { holder: held, on: one });
  return found;
}
