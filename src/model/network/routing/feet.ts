/** Where the routers of a plan stand: one foot each segment, with what the plan says of it. */
import type { Device, Interface, RouterInterface, Switch, Vlan } from '../../../plan/types.js';
import { isIPv4, type Address } from '../../../values/address.js';
import { isLinkLocal } from '../../hosts/index.js';
import type { Plane } from '../plane.js';
import type { Segment } from '../segment.js';
import type { Tree } from '../tree.js';

export type Box = Switch | Device;

/** A segment as far as routers are concerned. */
export interface Ground {
  readonly segment: Segment;
  readonly igmp: Plane;
  readonly tree: Tree;
}

export interface PlacedFoot<G extends Ground = Ground> {
  readonly on: Box;
  readonly ground: G;
  readonly node: number;
  readonly port: Interface | undefined;
  readonly metric: number | undefined;
  readonly priority: number | undefined;
  readonly multicast: boolean;
  readonly address4: Address | undefined;
  /** Routers know each other by link-local addresses (RFC 7761 §4.3.1). */
  readonly address6: Address | undefined;
}

export function placedFeet<G extends Ground>(grounds: readonly G[]): readonly PlacedFoot<G>[] {
  return grounds.flatMap((ground) => {
    const { vlans } = ground.segment.domain;
    const { routers } = ground.igmp;
    if (routers.length > 0) return routers.map(({ on, node, port }) => footOf(ground, vlans, on, { node, port }, true));
    // A routed link without multicast: unicast prefers it all the same.
    const [only] = vlans;
    if (only?.transit === undefined || vlans.length > 1) return [];
    return (only.routing?.routers ?? []).flatMap((on) => {
      const node = 'ports' in on ? ground.segment.nodeOf.get(on) : undefined;
      return node === undefined ? [] : [footOf(ground, vlans, on, { node, port: undefined }, false)];
    });
  });
}

function footOf<G extends Ground>(
  ground: G,
  vlans: readonly Vlan[],
  on: Box,
  place: { readonly node: number; readonly port: Interface | undefined },
  multicast: boolean,
): PlacedFoot<G> {
  const told: readonly RouterInterface[] = vlans.flatMap(({ routing }) =>
    (routing?.interfaces ?? []).filter((one) => one.on === on),
  );
  const addresses = addressesIn(vlans, on);
  return {
    on,
    ground,
    ...place,
    metric: told.find(({ metric }) => metric !== undefined)?.metric,
    priority: told.find(({ priority }) => priority !== undefined)?.priority,
    multicast,
    address4: addresses.find(isIPv4),
    address6: addresses.find((one) => !isIPv4(one) && isLinkLocal(one)),
  };
}

function addressesIn(vlans: readonly Vlan[], on: Box): readonly Address[] {
  const held = 'ports' in on ? on.addresses : on.interfaces;
  return held
    .filter(({ vlan }) => vlan !== undefined && vlans.includes(vlan))
    .flatMap((one) => [one.address ?? [], ('address6' in one ? one.address6 : undefined) ?? []].flat());
}
