import type { Vlan } from '../../plan/types.js';
import { inPrefix, type Address, type Prefix } from '../../values/address.js';
import type { Held } from './addressing.js';
import { isInterface } from './owners.js';

/**
 * The one address of the one box that the plan says routes in a VLAN, where neither it nor anybody else of `held` has the
 * gateway; undefined where nobody is said to route, several do (they may share a virtual address), or somebody has it.
 */
export function soleRouter(vlan: Vlan, gateway: Address, subnet: Prefix, held: readonly Held[]): Held | undefined {
  if (!inPrefix(gateway, subnet) || held.some(({ address }) => address === gateway)) return undefined;
  const named = vlan.routing?.routers ?? [];
  const routers = held.filter((one) => {
    const { owner } = one;
    if (typeof one.address !== typeof gateway || !inPrefix(one.address, subnet)) return false;
    if (isInterface(owner)) return owner.device.routes || named.includes(owner.device);
    return named.includes(owner.switch);
  });
  const [router] = routers;
  if (router === undefined || routers.length > 1) return undefined;
  const box = isInterface(router.owner) ? router.owner.device : router.owner.switch;
  return named.every((one) => one === box) ? router : undefined;
}
