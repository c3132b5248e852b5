/**
 * Which boxes a routed unicast packet passes. A plan states no unicast routes: beyond the gateway the way by the fewest
 * boxes is taken, and none where several are equally short, for nobody could tell which one a packet takes.
 */
import { append } from '../../collections/group-by.js';
import type { Address } from '../../values/address.js';
import type { Device, Interface, Plan, Switch } from '../../plan/types.js';
import { gatewaysOf, isInterface, type Owners } from '../hosts/index.js';
import type { Domain, Domains } from '../vlans/index.js';

/** A box with the switched domain it stands in. */
export interface Foot {
  readonly on: Switch | Device;
  readonly domain: Domain;
  /** Of a device; a switch is there itself. */
  readonly via: Interface | undefined;
}

/** Where boxes that forward stand. */
export interface Feet {
  readonly at: (domain: Domain) => readonly Foot[];
  readonly of: (box: Switch | Device) => readonly Foot[];
}

/** A box on the way: where a packet comes to it and where it leaves it. */
export interface BoxHop {
  readonly into: Foot;
  readonly out: Foot;
}

/** The boxes from one of the gateways on, the last of which stands in `to`; or that no way leads there, or several do. */
export function boxesOnWay(gateways: readonly Foot[], to: Domain, feet: Feet): readonly BoxHop[] | 'none' | 'several' {
  interface Trail {
    readonly into: Foot;
    readonly before: readonly BoxHop[];
    /** How many ways of this length lead here: more than one is enough to know. */
    readonly ways: number;
  }
  let near: readonly Trail[] = gateways.map((into) => ({ into, before: [], ways: 1 }));
  const seen = new Set<Switch | Device>(gateways.map(({ on }) => on));
  while (near.length > 0) {
    const ends = near.flatMap(({ into, before, ways }) =>
      feet
        .of(into.on)
        .filter(({ domain }) => domain === to)
        .map((out) => ({ hops: [...before, { into, out }], ways })),
    );
    const [end, another] = ends;
    if (end !== undefined) return another === undefined && end.ways === 1 ? end.hops : 'several';
    const far = new Map<Switch | Device, Trail>();
    for (const { into, before, ways } of near)
      for (const out of feet.of(into.on))
        for (const next of feet.at(out.domain)) {
          if (seen.has(next.on)) continue;
          const known = far.get(next.on);
          far.set(
            next.on,
            known === undefined
              ? { into: next, before: [...before, { into, out }], ways }
              : { ...known, ways: known.ways + ways },
          );
        }
    for (const box of far.keys()) seen.add(box);
    near = [...far.values()];
  }
  return 'none';
}

/** Boxes that forward as far as the plan says: they hold a gateway, are named as routers, or are devices that route. */
export function feetOf(plan: Plan, domains: Domains, owners: Owners): Feet {
  const named = new Set(plan.vlans.flatMap(({ routing }) => routing?.routers ?? []));
  const gateways = new Set<Address>(plan.vlans.flatMap((vlan) => gatewaysOf(vlan).map(({ address }) => address)));
  for (const { gateway } of plan.interfaces) if (gateway !== undefined) gateways.add(gateway);
  const boxes = new Set<Switch | Device>([...named, ...plan.devices.filter(({ routes }) => routes)]);
  for (const address of gateways)
    for (const owner of owners.byAddress.get(address) ?? []) if (!isInterface(owner)) boxes.add(owner.switch);
  const byBox = new Map<Switch | Device, readonly Foot[]>();
  const byDomain = new Map<Domain, Foot[]>();
  for (const box of boxes) {
    const own = 'ports' in box ? feetOfSwitch(box, plan, domains) : feetOfDevice(box, domains);
    byBox.set(box, own);
    for (const foot of own) append(byDomain, foot.domain, foot);
  }
  return { at: (domain) => byDomain.get(domain) ?? [], of: (box) => byBox.get(box) ?? [] };
}

function feetOfSwitch(on: Switch, { vlans }: Plan, domains: Domains): readonly Foot[] {
  const own = new Set([
    ...on.addresses.flatMap(({ vlan }) => vlan ?? []),
    ...vlans.filter(({ routing }) => routing?.routers.includes(on) === true),
  ]);
  const there = new Set([...own].flatMap((vlan) => domains.onSwitch(on, vlan) ?? []));
  return [...there].map((domain) => ({ on, domain, via: undefined }));
}

function feetOfDevice(on: Device, domains: Domains): readonly Foot[] {
  return on.interfaces.flatMap((via) => (via.vlan === undefined ? [] : [{ on, domain: domains.switched(via), via }]));
}
