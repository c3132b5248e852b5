/** Networks between two routers, of which the plan states one end only. */
import type { Link, Plan, Switch, Device, Vlan } from '../../plan/types.js';

export type HalfRouted =
  /** A routed link with an address at one of its ends. */
  | { readonly kind: 'address'; readonly link: Link; readonly silent: 0 | 1 }
  /** A VLAN whose subnet has room for two, with a single router and nobody else. */
  | { readonly kind: 'VLAN'; readonly vlan: Vlan; readonly router: Switch | Device };

export function halfRouted(plan: Plan): readonly HalfRouted[] {
  return [...plan.transits.flatMap(halfAddressed), ...loneRouters(plan)];
}

function halfAddressed({ transit: link, routing }: Vlan): readonly HalfRouted[] {
  if (link === undefined) return [];
  const stated = (routing?.interfaces ?? []).map(({ origin }) => Object.hasOwn(origin.container, 'address'));
  if (stated.filter(Boolean).length !== 1) return [];
  return [{ kind: 'address', link, silent: stated[0] === true ? 1 : 0 }];
}

function loneRouters(plan: Plan): readonly HalfRouted[] {
  const small = plan.vlans.filter(({ routing, subnet, subnet6 }) => {
    if (routing === undefined || routing.mode === 'none' || routing.routers.length !== 1) return false;
    return subnet === undefined ? subnet6 !== undefined && subnet6.length >= 126 : subnet.length >= 30;
  });
  if (small.length === 0) return [];
  const others = new Set(
    plan.interfaces.flatMap(({ vlan, device }) =>
      vlan === undefined || vlan.routing?.routers.includes(device) === true ? [] : [vlan],
    ),
  );
  return small.flatMap((vlan): HalfRouted[] => {
    const [router] = vlan.routing?.routers ?? [];
    return router === undefined || others.has(vlan) ? [] : [{ kind: 'VLAN', vlan, router }];
  });
}
