/** Queriers that have no address, or not one they can query from. */
import type { Querier, Vlan } from '../../plan/types.js';
import { inPrefix, isIPv4, type Address, type Prefix } from '../../values/address.js';
import { type Addressing, type Held, isInterface, isLinkLocal, subnetFor } from '../hosts/index.js';
import { addressesOn, type Candidate, type Protocol } from './group-segments.js';

export type QuerierFault =
  /** Not stated, though its box holds some. */
  | { readonly fault: 'none' }
  /** 0.0.0.0 or ::, which takes no part in the election and makes no router port (RFC 4541 §2.1.1). */
  | { readonly fault: 'unspecified'; readonly address: Address }
  /** MLD queries come from link-local addresses (RFC 3810 §5.1.14). */
  | { readonly fault: 'notLinkLocal'; readonly address: Address }
  | { readonly fault: 'notIPv4'; readonly address: Address }
  | { readonly fault: 'notHeld'; readonly address: Address }
  | { readonly fault: 'heldByAnother'; readonly address: Address; readonly holder: Held }
  | { readonly fault: 'outsideSubnet'; readonly address: Address; readonly subnet: Prefix };

/** `held`: addresses its box can query from in the VLAN. */
export function querierFault(
  { on, address }: Querier,
  vlan: Vlan,
  protocol: Protocol,
  addressing: Addressing,
): (QuerierFault & { readonly held: readonly Address[] }) | undefined {
  const held = addressesOn(on, vlan, protocol, addressing);
  if (address === undefined) return held.length === 0 ? undefined : { fault: 'none', held };
  if (BigInt(address) === 0n) return { fault: 'unspecified', address, held };
  if (protocol === 'mld')
    return !isIPv4(address) && isLinkLocal(address) ? undefined : { fault: 'notLinkLocal', address, held };
  if (!isIPv4(address)) return { fault: 'notIPv4', address, held };
  // Where the box holds it too, the address itself is at fault, and the rules on hosts and subnets say so.
  if (held.length > 0 && held.includes(address)) return undefined;
  if (held.length > 0) return { fault: 'notHeld', address, held };
  const holder = (addressing.byVlan.get(vlan) ?? []).find((one) => one.address === address);
  if (on !== undefined && holder !== undefined && boxOf(holder) !== on)
    return { fault: 'heldByAnother', address, holder, held };
  const subnet = subnetFor(vlan, address);
  return subnet === undefined || inPrefix(address, subnet)
    ? undefined
    : { fault: 'outsideSubnet', address, subnet, held };
}

/** Whether a querier's address is one that may win the election; of one without an address nobody can tell. */
export function mayWin({ address, vlan }: Candidate, protocol: Protocol): boolean {
  if (address === undefined || BigInt(address) === 0n) return false;
  if (protocol === 'mld') return isLinkLocal(address);
  const subnet = subnetFor(vlan, address);
  return subnet === undefined || inPrefix(address, subnet);
}

function boxOf({ owner }: Held): object {
  return isInterface(owner) ? owner.device : owner.switch;
}
