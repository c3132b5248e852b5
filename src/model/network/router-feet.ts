/** Whether the routers of a VLAN have a foot in it where its streams are. */
import type { Device, Switch, Vlan } from '../../plan/types.js';
import { type Addressing, isInterface } from '../hosts/index.js';
import { type Domain, type Domains, mayCarry } from '../vlans/index.js';

/**
 * Why no router of a VLAN hears a part of it: none has a port or an address in the VLAN, or no link leads to one that
 * has. Undefined where one is there, or nobody can tell.
 */
export function routersApart(
  vlan: Vlan,
  part: Domain,
  domains: Domains,
  addressing: Addressing,
): 'noFoot' | 'noLink' | undefined {
  const routers = vlan.routing?.routers ?? [];
  if (routers.length === 0) return undefined;
  const feet = routers.map((router) => footOf(router, vlan, domains, addressing));
  if (feet.some((foot) => foot === 'unknown' || (foot !== 'none' && foot.includes(part)))) return undefined;
  return feet.every((foot) => foot === 'none') ? 'noFoot' : 'noLink';
}

/** The parts of the VLAN where a router has a port or an address. */
function footOf(
  router: Switch | Device,
  vlan: Vlan,
  domains: Domains,
  addressing: Addressing,
): readonly Domain[] | 'none' | 'unknown' {
  if (!('ports' in router)) {
    const own = router.interfaces.filter((one) => one.vlan === vlan);
    if (own.length > 0) return own.map((one) => domains.switched(one));
    return router.interfaces.length === 0 || router.interfaces.some((one) => one.vlan === undefined)
      ? 'unknown'
      : 'none';
  }
  const part = domains.onSwitch(router, vlan);
  const ports = [...router.ports.values()];
  if (holds(router, vlan, addressing) || ports.some((port) => mayCarry(port, vlan)))
    return part === undefined ? 'unknown' : [part];
  // A switch that states its address in some VLAN states it in each it routes.
  return router.addresses.some((held) => held.vlan !== undefined) ? 'none' : 'unknown';
}

function holds(router: Switch, vlan: Vlan, { byVlan }: Addressing): boolean {
  return (byVlan.get(vlan) ?? []).some(({ owner }) => !isInterface(owner) && owner.switch === router);
}
