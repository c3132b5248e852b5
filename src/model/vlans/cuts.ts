/** What a link that leaves a VLAN out keeps apart. */
import { once } from '../../collections/once.js';
import type { Link, Plan, Switch, Vlan } from '../../plan/types.js';
import type { Domain } from './domain.js';
import type { Domains } from './domains.js';
import { tagOf } from './trunks.js';

/**
 * `apart`: something of the VLAN stands on both sides, and nothing else joins them. `unplaced`: the plan does not say on
 * which side all of it stands. `joined`: another way joins the two sides. `one side`: nothing of it stands on one of them.
 */
export type Cut = 'apart' | 'unplaced' | 'joined' | 'one side';

/** What becomes of VLANs that a link does not carry, though one of its ends does. */
export function createCuts(plan: Plan, domains: Domains): (link: Link, vlan: Vlan) => Cut {
  const standing = once(() => buildStanding(plan, domains));
  return ({ ends: [a, b] }, vlan) => {
    if (a.switch === undefined || b.switch === undefined) return 'unplaced';
    const entries = plan.vlans.filter((other) => tagOf(other) === tagOf(vlan));
    const at = (owner: Switch): readonly Domain[] => entries.flatMap((entry) => domains.onSwitch(owner, entry) ?? []);
    const here = at(a.switch);
    const there = at(b.switch);
    const shared = here.filter((domain) => there.includes(domain));
    if (shared.length > 0) return shared.some(({ switches }) => switches.length > 1) ? 'joined' : 'unplaced';
    const { domains: known, unplaced } = standing();
    if (here.some((one) => known.has(one)) && there.some((one) => known.has(one))) return 'apart';
    return entries.some((entry) => unplaced.has(entry)) ? 'unplaced' : 'one side';
  };
}

interface Standing {
  /** Domains in which a host, or a switch with an address, is known to stand. */
  readonly domains: ReadonlySet<Domain>;
  /** VLANs with a host of which the plan does not say in which part it stands. */
  readonly unplaced: ReadonlySet<Vlan>;
}

function buildStanding(plan: Plan, domains: Domains): Standing {
  const known = new Set<Domain>();
  const unplaced = new Set<Vlan>();
  for (const one of plan.interfaces) {
    if (one.vlan === undefined) continue;
    if (domains.placed({ interface: one, vlan: one.vlan, network: one.network })) known.add(domains.switched(one));
    else unplaced.add(one.vlan);
  }
  for (const one of plan.switches)
    for (const { vlan } of one.addresses) {
      const domain = vlan === undefined ? undefined : domains.onSwitch(one, vlan);
      if (domain !== undefined) known.add(domain);
    }
  return { domains: known, unplaced };
}
