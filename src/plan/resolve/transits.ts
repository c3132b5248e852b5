/** The network of its own that a routed link is: two routers, an address each, no VLAN and nothing to snoop. */
import type { RawLink, RawRoutedEnd } from '../../read/raw-plan.js';
import type { Document } from '../../source/document.js';
import { isIPv4, networkOf, type Prefix } from '../../values/address.js';
import type { Link, RouterInterface, SwitchAddress, Vlan } from '../types.js';
import { originOf, type Draft, type ResolveContext } from './context.js';

/** Gives both switches their address on the link, and makes both routers of it. */
export function resolveTransit(
  document: Document,
  raw: RawLink,
  routed: readonly [RawRoutedEnd, RawRoutedEnd],
  link: Link,
  context: ResolveContext,
): Vlan {
  const origin = originOf(document, raw);
  const transit: Draft<Vlan> = {
    origin,
    rig: link.rig,
    name: raw.name ?? `${raw.ends[0]} to ${raw.ends[1]}`,
    id: undefined,
    network: undefined,
    subnet: undefined,
    subnet6: undefined,
    gateway: undefined,
    gateway6: undefined,
    mtu: undefined,
    dhcp: undefined,
    // A router sends a stream out of a routed port for those who joined it, and nothing else.
    forwarding: 'controlled',
    igmp: undefined,
    mld: undefined,
    routing: undefined,
    transit: link,
    joinedAs: undefined,
  };
  const interfaces: RouterInterface[] = [];
  for (const index of [0, 1] as const) {
    const { address, metric } = routed[index];
    const at = originOf(document, routed[index]);
    const owner = link.ends[index].switch;
    interfaces.push({ origin: at, on: owner, metric, priority: undefined });
    const held = context.interfaceAddress(at, 'address', address);
    if (held === undefined || owner === undefined) continue;
    const own: SwitchAddress = {
      origin: at,
      switch: owner,
      vlan: transit,
      address: held.address,
      prefixLength: held.length,
      mac: undefined,
    };
    (owner.addresses as SwitchAddress[]).push(own);
    if (held.length === undefined) continue;
    const subnet: Prefix = {
      address: held.address,
      network: networkOf(held.address, held.length),
      length: held.length,
    };
    if (isIPv4(held.address)) transit.subnet ??= subnet;
    else transit.subnet6 ??= subnet;
  }
  transit.routing = {
    origin,
    mode: routed.every(({ multicast }) => multicast !== false) ? 'pim-sm' : 'none',
    routers: interfaces.flatMap(({ on }) => on ?? []),
    interfaces,
    rendezvousPoints: [],
  };
  return transit;
}
