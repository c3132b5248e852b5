/** What the plan itself says is wrong with streams to one address. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Interface, Leg, Plan, ReceiverLeg, Rig, Vlan } from '../../plan/types.js';
import { isIPv4, type Address } from '../../values/address.js';
import { addressOf, type Owner, type Owners, unusualInterfaces } from '../hosts/index.js';
import { unusualLegs } from '../streams/index.js';
import { lineRate } from './flood.js';
import { forwardingBoxes } from './unicast-route.js';
import type { Network } from './flows.js';
import type { RateOf } from './load.js';

/** Streams that come to one program at one host: RTP tells sessions apart by address and port alone (RFC 3550 §5.2). */
export interface SharedPort {
  readonly address: Address;
  readonly port: number;
  readonly legs: NonEmpty<Leg>;
}

/**
 * One entry an address and port. Media of one session description may share both on purpose (RFC 8843 §7.1); a leg that
 * says the same as another of its stream, interface and source too, is the same leg written twice.
 */
export function sharedPorts(plan: Plan, network: Network): readonly SharedPort[] {
  const byAddress = groupBy(unusualLegs(plan).groupless, ({ unicast, port }) =>
    unicast !== undefined && port !== undefined ? unicast : undefined,
  );
  return [...byAddress].flatMap(([address, sent]) => {
    if (sent.length < 2) return [];
    // Rigs that do not meet may use one address each for another box.
    const byEnd = groupBy(sent, (leg): Owner | Rig => network.routeOf(leg)?.end ?? leg.sender.rig);
    return [...byEnd.values()].flatMap((own) =>
      [...groupBy(own, ({ port }) => port)].flatMap(([port, sharing]): SharedPort[] => {
        const apart = sharing.filter((leg, index) => !sharing.slice(0, index).some((other) => isSame(leg, other)));
        return isNonEmpty(apart) && apart.length > 1 ? [{ address, port, legs: apart }] : [];
      }),
    );
  });
}

function isSame(leg: Leg, other: Leg): boolean {
  if (leg.sender !== other.sender)
    return leg.sender.session !== undefined && leg.sender.session === other.sender.session;
  return leg.interface === other.interface && leg.source === other.source;
}

/** A leg that receivers take although another box, or another interface of theirs, holds the address. */
export interface SentElsewhere {
  readonly leg: Leg;
  readonly address: Address;
  readonly holders: NonEmpty<Owner>;
  readonly takers: NonEmpty<ReceiverLeg>;
  /** Takers that do hold the address. */
  readonly rightful: readonly ReceiverLeg[];
  /** The address of the only taker, where it has one of that family. */
  readonly wanted: Address | undefined;
}

export function sentElsewhere(plan: Plan, owners: Owners): readonly SentElsewhere[] {
  if (unusualLegs(plan).groupless.length === 0) return [];
  const byLeg = groupBy(plan.receiverLegs, ({ takes, group, interface: via }) =>
    takes?.unicast === undefined || takes.group !== undefined || group !== undefined || via === undefined
      ? undefined
      : takes,
  );
  return [...byLeg].flatMap(([leg, all]): SentElsewhere[] => {
    const { unicast: address } = leg;
    const holders = address === undefined ? [] : (owners.byAddress.get(address) ?? []);
    const holds = ({ interface: via }: ReceiverLeg): boolean => via !== undefined && holders.includes(via);
    const takers = all.filter((one) => !holds(one));
    const rightful = all.filter(holds);
    if (address === undefined || !isNonEmpty(holders) || !isNonEmpty(takers)) return [];
    const [only, another] = takers;
    const alone = another === undefined && rightful.length === 0 ? only.interface : undefined;
    const wanted = alone === undefined ? undefined : addressOf(alone, isIPv4(address));
    return [{ leg, address, holders, takers, rightful, wanted }];
  });
}

/** Legs of one VLAN and address family that need a gateway where none is stated. */
export interface WithoutGateway {
  readonly vlan: Vlan;
  readonly four: boolean;
  readonly legs: NonEmpty<Leg>;
}

export function withoutGateway(plan: Plan, network: Network): readonly WithoutGateway[] {
  const stuck = unusualLegs(plan).groupless.filter((leg) => network.routeOf(leg)?.stop === 'no gateway');
  return [...groupBy(stuck, ({ vlan }) => vlan)].flatMap(([vlan, own]) =>
    [...groupBy(own, ({ unicast }) => (unicast === undefined ? undefined : isIPv4(unicast)))].map(([four, list]) => ({
      vlan,
      four,
      legs: list,
    })),
  );
}

/** Streams to one address whose TTL ends at a box on their way, with how many boxes send them on. TTL 0 never leaves the sender. */
export function endingEarly(plan: Plan, network: Network): ReadonlyMap<Leg, number> {
  const found = new Map<Leg, number>();
  for (const leg of unusualLegs(plan).groupless) {
    const route = network.routeOf(leg);
    const { ttl = 0 } = route === undefined ? {} : leg;
    if (route === undefined || ttl === 0) continue;
    const boxes = forwardingBoxes(route).length;
    if (ttl <= boxes) found.set(leg, boxes);
  }
  return found;
}

/** What is flooded in a VLAN because the host it is sent to never speaks. */
export interface SilentFlood {
  readonly host: Interface;
  readonly forwarding: Network['forwardings'][number];
  readonly legs: NonEmpty<Leg>;
  /** Bit/s at a host port, as far as rates are known. */
  readonly rateBps: number;
  readonly unrated: number;
  /** Hosts that get it and are neither its end nor its sender. */
  readonly bystanders: NonEmpty<Interface>;
  /** Of those the slowest whose port has a known rate. */
  readonly slowest: { readonly host: Interface; readonly rateBps: number } | undefined;
}

export function silentFloods(plan: Plan, network: Network, rateOf: RateOf): readonly SilentFlood[] {
  if (unusualInterfaces(plan).silent.length === 0) return [];
  const flows = groupBy(network.flows, ({ flood, to }) => (flood === 'silent receiver' ? to?.port : undefined));
  return [...flows].flatMap(([host, own]) => {
    const [{ forwarding, to }] = own;
    const { segment, tree } = forwarding;
    const senders = new Set(own.map(({ entry }) => entry));
    const bystanders = segment.hostsAt.flatMap((hosts, node) =>
      tree.component[node] === tree.component[to?.node ?? -1]
        ? hosts.filter((one) => one !== host && !(senders.size === 1 && senders.has(one)))
        : [],
    );
    if (!isNonEmpty(bystanders)) return [];
    const rates = own.map((flow) => rateOf(flow)?.onPort);
    const known = bystanders
      .flatMap((one) => {
        const rateBps = lineRate(one);
        return rateBps === undefined ? [] : [{ host: one, rateBps }];
      })
      .toSorted((a, b) => a.rateBps - b.rateBps);
    const [first, ...rest] = own;
    return [
      {
        host,
        forwarding,
        legs: [first.leg, ...rest.map(({ leg }) => leg)],
        rateBps: rates.reduce<number>((sum, rate) => sum + (rate ?? 0), 0),
        unrated: rates.filter((rate) => rate === undefined).length,
        bystanders,
        slowest: known[0],
      },
    ];
  });
}
