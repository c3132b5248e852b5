/** Every unicast address somebody holds, and how well the addresses of a VLAN fit the subnet it states. */
import { inPrefix, isIPv4, networkOf, type Address, type Prefix } from '../../values/address.js';
import type { Plan, Rig, Vlan } from '../../plan/types.js';
import { hostAddressFault } from './host-addresses.js';
import { isInterface, ownerLabel, type Owner } from './owners.js';
import { isLinkLocal } from './special-purpose.js';
import { append } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';

/** An address on an interface or on a switch. */
export interface Held {
  readonly owner: Owner;
  /** The key it is written under. */
  readonly key: 'address' | 'address6';
  readonly address: Address;
  readonly prefixLength: number | undefined;
  readonly vlan: Vlan | undefined;
}

/** What the addresses of a VLAN say about one of its subnets. */
export interface SubnetFit {
  readonly vlan: Vlan;
  readonly key: 'subnet' | 'subnet6';
  readonly subnet: Prefix;
  /** How many addresses lie inside and state the same prefix length, or none. */
  readonly fitting: number;
  /** Addresses that do not fit, other than those that outvote the VLAN. */
  readonly odd: readonly Held[];
  /** More than half of the addresses agree on this subnet instead, so the VLAN is the one to doubt. */
  readonly outvotedBy: { readonly prefix: Prefix; readonly held: NonEmpty<Held> } | undefined;
}

export interface Addressing {
  /** In plan order: interfaces, then switches. */
  readonly held: readonly Held[];
  readonly byVlan: ReadonlyMap<Vlan, readonly Held[]>;
  /** By the prefix object of the VLAN; present for every subnet in which somebody holds an address. */
  readonly fits: ReadonlyMap<Prefix, SubnetFit>;
}

export function buildAddressing(plan: Plan): Addressing {
  const held = heldAddresses(plan);
  const byVlan = new Map<Vlan, Held[]>();
  const drafts = new Map<Prefix, FitDraft>();
  for (const one of held) {
    const { vlan } = one;
    if (vlan === undefined) continue;
    append(byVlan, vlan, one);
    const subnet = subnetFor(vlan, one.address);
    if (subnet === undefined || isLinkLocal(one.address)) continue;
    if (hostAddressFault(one.address)?.severity === 'error') continue;
    let draft = drafts.get(subnet);
    if (draft === undefined) drafts.set(subnet, (draft = { vlan, fitting: 0, other: [] }));
    if (ownLength(one, subnet) === subnet.length && inPrefix(one.address, subnet)) draft.fitting++;
    else draft.other.push(one);
  }
  return { held, byVlan, fits: new Map([...drafts].map(([subnet, draft]) => [subnet, fitOf(subnet, draft)])) };
}

function heldAddresses(plan: Plan): readonly Held[] {
  const held: Held[] = [];
  for (const one of plan.interfaces) {
    const { vlan, address, address6 } = one;
    if (address !== undefined) held.push({ owner: one, key: 'address', address, prefixLength: one.prefixLength, vlan });
    if (address6 !== undefined) {
      held.push({ owner: one, key: 'address6', address: address6, prefixLength: one.prefixLength6, vlan });
    }
  }
  for (const one of plan.switches) {
    for (const owner of one.addresses) {
      const { vlan, address, prefixLength } = owner;
      if (address !== undefined) held.push({ owner, key: 'address', address, prefixLength, vlan });
    }
  }
  return held;
}

interface FitDraft {
  readonly vlan: Vlan;
  fitting: number;
  readonly other: Held[];
}

function fitOf(subnet: Prefix, draft: FitDraft): SubnetFit {
  const { vlan, fitting, other } = draft;
  const shared = { vlan, key: subnetKey(vlan, subnet), subnet, fitting } as const;
  const votes = new Map<string, { readonly prefix: Prefix; readonly held: [Held, ...Held[]] }>();
  for (const one of other) {
    const prefix = wantedSubnet(one, subnet);
    const key = `${prefix.network}/${prefix.length}`;
    const vote = votes.get(key);
    if (vote === undefined) votes.set(key, { prefix, held: [one] });
    else vote.held.push(one);
  }
  for (const vote of votes.values()) {
    if (vote.held.length < 2 || vote.held.length * 2 <= fitting + other.length) continue;
    const silent = other.filter((one) => one.prefixLength === undefined && inPrefix(one.address, vote.prefix));
    const convinced = new Set([...vote.held, ...silent]);
    return {
      ...shared,
      outvotedBy: { prefix: vote.prefix, held: vote.held },
      odd: other.filter((one) => !convinced.has(one)),
    };
  }
  return { ...shared, outvotedBy: undefined, odd: other };
}

/** The subnet an address would need: the VLAN's network where only the length is longer, else the one it lies in. */
function wantedSubnet(held: Held, subnet: Prefix): Prefix {
  const length = ownLength(held, subnet);
  const inside = inPrefix(held.address, subnet);
  const network = networkOf(held.address, inside ? Math.min(length, subnet.length) : length);
  return { address: network, network, length };
}

/** A host shows an IPv6 address it got from DHCPv6 as a /128, which says nothing about the subnet (RFC 5942 §4). */
function ownLength(held: Held, subnet: Prefix): number {
  const { prefixLength } = held;
  return prefixLength === undefined || prefixLength === 128 ? subnet.length : prefixLength;
}

/** How many addresses have a say about a subnet. */
export function votesOn({ fitting, odd, outvotedBy }: SubnetFit): number {
  return fitting + odd.length + (outvotedBy?.held.length ?? 0);
}

/** The VLAN's subnet of the address's family. */
export function subnetFor(vlan: Vlan, address: Address): Prefix | undefined {
  if (vlan.subnet !== undefined && typeof vlan.subnet.network === typeof address) return vlan.subnet;
  return vlan.subnet6 !== undefined && typeof vlan.subnet6.network === typeof address ? vlan.subnet6 : undefined;
}

/** The key of the VLAN under which one of its subnets stands. */
export function subnetKey(vlan: Vlan, subnet: Prefix): 'subnet' | 'subnet6' {
  return vlan.subnet6 === subnet ? 'subnet6' : 'subnet';
}

/** Order in which a prefix comes right before those inside it; for prefixes of one family. */
export function comparePrefixes(a: Prefix, b: Prefix): number {
  if (a.network !== b.network) return a.network < b.network ? -1 : 1;
  return a.length - b.length;
}

/** A gateway as a VLAN states it. */
export interface StatedGateway {
  readonly address: Address;
  readonly key: 'gateway' | 'gateway6';
}

/** The VLAN's gateway of the address's family, and the key it is written under. */
export function gatewayFor(vlan: Vlan, address: Address): StatedGateway | undefined {
  return gatewaysOf(vlan).find((one) => isIPv4(one.address) === isIPv4(address));
}

/** Both gateways of a VLAN, as far as stated. */
export function gatewaysOf(vlan: Vlan): readonly StatedGateway[] {
  return [
    ...(vlan.gateway === undefined ? [] : [{ address: vlan.gateway, key: 'gateway' as const }]),
    ...(vlan.gateway6 === undefined ? [] : [{ address: vlan.gateway6, key: 'gateway6' as const }]),
  ];
}

/** `cam-1 red`, `switch red-core in red-video`: a switch has an address in every VLAN. */
export function holderLabel(owner: Owner): string {
  const name = ownerLabel(owner);
  return isInterface(owner) || owner.vlan === undefined ? name : `${name} in ${owner.vlan.name}`;
}

/** The address in a subnet that a switch, or else a router, of the VLAN holds, the lowest of several: the likely gateway. */
export function routerAddress(vlan: Vlan, subnet: Prefix, addressing: Addressing): Held | undefined {
  const held = (addressing.byVlan.get(vlan) ?? []).filter(
    (one) => forwards(one.owner) && inPrefix(one.address, subnet) && typeof one.address === typeof subnet.network,
  );
  const switches = held.filter((one) => !isInterface(one.owner));
  const [first, ...rest] = switches.length > 0 ? switches : held;
  return first === undefined ? undefined : rest.reduce((low, one) => (one.address < low.address ? one : low), first);
}

/** Label of whoever holds an address. */
export function heldLabel(held: Held): string {
  return holderLabel(held.owner);
}

/** The rig an interface or switch belongs to. */
export function rigOf(owner: Owner): Rig {
  return isInterface(owner) ? owner.device.rig : owner.switch.rig;
}

/** Whether the owner forwards packets: a switch, or a device that routes or is named as a router of the VLAN. */
export function forwards(owner: Owner): boolean {
  if (!isInterface(owner)) return true;
  const { device, vlan } = owner;
  return device.routes || vlan?.routing?.routers.includes(device) === true;
}
