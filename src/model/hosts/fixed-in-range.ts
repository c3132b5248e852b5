/** Fixed addresses that lie in a DHCP range (RFC 2131 §3.1: the server must not give them to anyone else). */
import { inRange, type Address, type AddressRange } from '../../values/address.js';
import type { Querier, Vlan } from '../../plan/types.js';
import { gatewaysOf, type Addressing, type Held, type StatedGateway } from './addressing.js';
import { rangeWithout } from './dhcp-overlaps.js';
import { isInterface } from './owners.js';

/** A fixed address of a VLAN entry, by what it is written as. */
export type FixedAddress = { readonly address: Address; readonly vlan: Vlan } & (
  | { readonly kind: 'held'; readonly held: Held }
  | { readonly kind: 'gateway'; readonly key: StatedGateway['key'] }
  | { readonly kind: 'querier'; readonly querier: Querier }
);

/** Those of one entry, each address once: of boxes, gateways and queriers. */
export function fixedInRange(vlan: Vlan, range: AddressRange, { byVlan }: Addressing): readonly FixedAddress[] {
  const held = (byVlan.get(vlan) ?? [])
    .filter(({ owner, address }) => inRange(address, range) && !(isInterface(owner) && owner.dhcp))
    .map((one): FixedAddress => ({ kind: 'held', held: one, address: one.address, vlan }));
  const seen = new Set(held.map(({ address }) => address));
  const stated: readonly FixedAddress[] = [
    ...gatewaysOf(vlan).map(({ address, key }) => ({ kind: 'gateway' as const, key, address, vlan })),
    ...[...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])].flatMap((querier) =>
      querier.address === undefined ? [] : [{ kind: 'querier' as const, querier, address: querier.address, vlan }],
    ),
  ];
  const others = stated.filter(({ address }) => {
    if (!inRange(address, range) || seen.has(address)) return false;
    seen.add(address);
    return true;
  });
  return [...held, ...others];
}

/** Those of the other rigs' entries of the VLAN, without those that their own range holds too. */
export function fixedAbroad(
  others: readonly Vlan[],
  range: AddressRange,
  own: readonly FixedAddress[],
  addressing: Addressing,
): readonly FixedAddress[] {
  const seen = new Set(own.map(({ address }) => address));
  return others.flatMap((other) =>
    fixedInRange(other, range, addressing).filter(
      ({ address }) => !seen.has(address) && (other.dhcp === undefined || !inRange(address, other.dhcp)),
    ),
  );
}

/** The longer part of a range below or above all addresses, where it is worth handing out: half of the range, about. */
export function largerPart(range: AddressRange, addresses: readonly Address[]): AddressRange | undefined {
  const part = rangeWithout(
    range,
    addresses.map((address) => ({ first: address, last: address })),
  );
  if (part === undefined) return undefined;
  const size = BigInt(part.last) - BigInt(part.first) + 1n;
  return size * 2n < BigInt(range.last) - BigInt(range.first) ? undefined : part;
}
