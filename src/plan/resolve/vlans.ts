/** One VLAN, and who queries and routes in it. */
import type { RawGroupManagement, RawVlan } from '../../read/raw-plan.js';
import type { Document } from '../../source/document.js';
import type { Device, GroupManagement, MulticastRouting, Network, Origin, Rig, Switch, Vlan } from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';

export function resolveVlan(
  document: Document,
  raw: RawVlan,
  rig: Rig,
  networks: Scope<Network>,
  context: ResolveContext,
): Vlan {
  const origin = originOf(document, raw);
  const vlan: Draft<Vlan> = {
    origin,
    rig,
    name: raw.name,
    id: raw.id,
    network: undefined,
    subnet: context.prefix(origin, 'subnet', raw.subnet),
    subnet6: context.prefix(origin, 'subnet6', raw.subnet6),
    gateway: context.address(origin, 'gateway', raw.gateway),
    gateway6: context.address(origin, 'gateway6', raw.gateway6),
    mtu: raw.mtu,
    dhcp: context.range(origin, 'dhcp', raw.dhcp),
    forwarding: raw.forwarding,
    igmp: raw.igmp === undefined ? undefined : resolveGroupManagement(document, raw.igmp, context),
    mld: raw.mld === undefined ? undefined : resolveGroupManagement(document, raw.mld, context),
    routing: raw.routing === undefined ? undefined : resolveRouting(document, raw.routing, context),
    transit: undefined,
    joinedAs: undefined,
  };
  vlan.network = context.find(networks, rig, origin, 'network', raw.network, { kind: 'vlan', entity: vlan });
  return vlan;
}

/** Queriers and routers name switches and devices; `bindRouting` fills them in once those are known. */
function resolveGroupManagement(document: Document, raw: RawGroupManagement, context: ResolveContext): GroupManagement {
  const origin = originOf(document, raw);
  return {
    origin,
    snooping: raw.snooping,
    version: raw.version,
    queriers: (raw.querier ?? []).map((one) => ({
      origin: originOf(document, one),
      on: undefined,
      address: context.address(originOf(document, one), 'address', one.address),
    })),
    queryIntervalS: context.seconds(origin, 'queryInterval', raw.queryInterval),
    queryResponseIntervalS: context.seconds(origin, 'queryResponseInterval', raw.queryResponseInterval),
    lastMemberQueryIntervalS: context.seconds(origin, 'lastMemberQueryInterval', raw.lastMemberQueryInterval),
    robustness: raw.robustness,
    unregistered: raw.unregistered,
    fastLeave: raw.fastLeave,
  };
}

function resolveRouting(
  document: Document,
  raw: NonNullable<RawVlan['routing']>,
  context: ResolveContext,
): MulticastRouting {
  return {
    origin: originOf(document, raw),
    mode: raw.mode,
    routers: [],
    interfaces: (raw.interfaces ?? []).map((one) => ({
      origin: originOf(document, one),
      on: undefined,
      metric: one.metric,
      priority: one.priority,
    })),
    rendezvousPoints: (raw.rp ?? []).flatMap((one) => {
      const origin = originOf(document, one);
      const address = context.address(origin, 'address', one.address);
      if (address === undefined) return [];
      return [
        {
          origin,
          address,
          groups: one.groups === undefined ? undefined : context.prefixes(origin, 'groups', one.groups),
        },
      ];
    }),
  };
}

/** Fills in who queries and who routes. */
export function bindRouting(
  vlans: readonly Vlan[],
  switches: Scope<Switch>,
  devices: Scope<Device>,
  context: ResolveContext,
): void {
  for (const vlan of vlans) {
    const find = (origin: Origin, key: string | number, text: string): Switch | Device | undefined => {
      const found = switches.find(vlan.rig, text) ?? devices.find(vlan.rig, text);
      if (found === undefined)
        context.lost(origin, key, { kind: 'box' }, text, { kind: 'vlan', entity: vlan }, () => [
          ...switches.names(),
          ...devices.names(),
        ]);
      return found;
    };
    for (const named of [
      ...(vlan.igmp?.queriers ?? []),
      ...(vlan.mld?.queriers ?? []),
      ...(vlan.routing?.interfaces ?? []),
    ]) {
      const text = (named.origin.container as { readonly on?: string }).on;
      if (text !== undefined) (named as { on: Switch | Device | undefined }).on = find(named.origin, 'on', text);
    }
    const { routing } = vlan;
    if (routing === undefined) continue;
    const list = listOrigin(routing.origin, 'routers');
    const names = (routing.origin.container as NonNullable<RawVlan['routing']>).routers ?? [];
    (routing as Draft<MulticastRouting>).routers = names.flatMap((text, index) => find(list, index, text) ?? []);
  }
}
