/** Headroom for a DHCP range. */
import { isIPv4, type AddressRange } from '../../values/address.js';
import type { Vlan } from '../../plan/types.js';
import { type Addressing, gatewaysOf, hostRange } from '../hosts/index.js';

/**
 * The longest run of IPv4 host addresses of a VLAN that no box, gateway, querier or other DHCP range of any of its entries
 * is in; the first of equal ones. `vlan` is one of the entries, and gives up its own range.
 */
export function freeStretch(vlan: Vlan, entries: readonly Vlan[], { byVlan }: Addressing): AddressRange | undefined {
  if (vlan.subnet === undefined || !isIPv4(vlan.subnet.network)) return undefined;
  const { first, last } = hostRange(vlan.subnet);
  const taken: AddressRange[] = [{ first: Number(last) + 1, last: Number(last) + 1 }];
  for (const one of entries) {
    if (one !== vlan && one.dhcp !== undefined) taken.push(one.dhcp);
    const addresses = [
      ...(byVlan.get(one) ?? []).map(({ address }) => address),
      ...gatewaysOf(one).map(({ address }) => address),
      ...(one.igmp?.queriers ?? []).flatMap(({ address }) => address ?? []),
    ];
    for (const address of addresses) taken.push({ first: address, last: address });
  }
  taken.sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : 0));
  let next = Number(first);
  let best: { readonly first: number; readonly last: number } | undefined;
  for (const range of taken) {
    if (!isIPv4(range.first) || !isIPv4(range.last) || range.last < first || range.first > Number(last) + 1) continue;
    const length = range.first - next;
    if (length > 0 && (best === undefined || length > best.last - best.first + 1))
      best = { first: next, last: range.first - 1 };
    next = Math.max(next, range.last + 1);
  }
  return best;
}
