/**
 * What spoils a delivery that links, VLANs and joins would allow: two senders mixed, hosts that can't hold their address or
 * are not heard, packets that no port takes. Looked for once; a sound plan has none of it.
 */
import { append } from '../../collections/group-by.js';
import type { Interface, Leg, Plan, Port, ReceiverLeg } from '../../plan/types.js';
import { isIPv4, type Address } from '../../values/address.js';
import { type GroupIndex, type GroupUse, sendersClash } from '../groups/index.js';
import {
  addressClashes,
  type Addressing,
  type ClashParts,
  hostAddressFault,
  isGroupMac,
  isInterface,
  sourceFault,
  subnetEdge,
  unusualInterfaces,
} from '../hosts/index.js';
import { type AnyLeg, largePackets, type Network, sharedPorts } from '../network/index.js';
import type { Rates } from '../streams/index.js';
import { isVlanId } from '../vlans/index.js';
import { denialOf, DENIED, type Fate } from './fates.js';

/** The parts of the model that tell what spoils deliveries. */
export interface SpoilModel extends ClashParts {
  readonly plan: Plan;
  readonly groups: GroupIndex;
  readonly addressing: Addressing;
  readonly network: Network;
  readonly rates: Rates;
}

/** What spoils the way of a leg to a receiver leg; undefined where nothing does. */
export type Spoiled = (leg: Leg, taker: ReceiverLeg) => Fate | undefined;

/** `wayOf` tells whether a leg would get to a receiver leg but for what is found here. */
export function createSpoiled(model: SpoilModel, wayOf: (leg: Leg, taker: ReceiverLeg) => Fate): Spoiled {
  const faults = hostFaults(model);
  const faulty = faults.v4.size + faults.v6.size + faults.unheard.size > 0;
  const uses = usesThatClash(model);
  const large = new Set(largePackets(model.plan, model.rates).overMtu);
  const strayIds = model.plan.vlans.some(({ id }) => id !== undefined && !isVlanId(id));
  return (leg, taker) => {
    const to = leg.group ?? leg.unicast;
    const host = (faulty ? (hostFault(faults, leg, to) ?? hostFault(faults, taker, to)) : undefined) ?? sourceFate(leg);
    if (host !== undefined) return host;
    if (leg.ttl === 0) return DENIED['time to live']; // RFC 1112 §6.1: it stays on the host
    if (strayIds && crossesTrunkUntagged(leg, taker)) return DENIED['VLAN id'];
    if (large.has(leg) && isTooLarge(leg, taker, model)) return DENIED['packet size'];
    const shared = uses.get(leg);
    return shared?.some((use) => isMixed(use, leg, taker, wayOf)) === true ? DENIED['two senders'] : undefined;
  };
}

/** By interface and family: IPv4 streams do not depend on an IPv6 address. */
interface HostFaults {
  readonly v4: ReadonlyMap<Interface, Fate>;
  readonly v6: ReadonlyMap<Interface, Fate>;
  readonly unheard: ReadonlySet<Interface>;
}

function hostFaults(model: SpoilModel): HostFaults {
  const v4 = new Map<Interface, Fate>();
  const v6 = new Map<Interface, Fate>();
  const add = (owner: object, address: Address, fate: Fate): void => {
    if ('device' in owner) (isIPv4(address) ? v4 : v6).set(owner as Interface, fate);
  };
  for (const { address, owners, meets, assumed, unsaidGateway, oneMac } of addressClashes(model)) {
    // One MAC twice is one box written twice, more likely than two that clash.
    if (!meets || assumed || unsaidGateway || oneMac) continue;
    for (const owner of owners) if (isInterface(owner)) add(owner, address, DENIED['duplicate address']);
  }
  for (const held of model.addressing.held) {
    const { owner, address } = held;
    if (!isInterface(owner)) continue;
    if (hostAddressFault(address)?.severity === 'error') add(owner, address, DENIED['unusable address']);
    const edge = subnetEdge(held);
    if (edge === undefined || edge.kind === 'anycast') continue;
    if (model.addressing.fits.get(edge.subnet)?.outvotedBy === undefined)
      add(owner, address, DENIED['unusable address']);
  }
  const unheard = new Set(
    unusualInterfaces(model.plan).oddMac.filter(({ mac }) => mac !== undefined && isGroupMac(mac)),
  );
  return { v4, v6, unheard };
}

function hostFault({ v4, v6, unheard }: HostFaults, { interface: via }: AnyLeg, to: Address | undefined) {
  if (via === undefined) return undefined;
  if (unheard.has(via)) return DENIED['unusable MAC'];
  return (to === undefined || isIPv4(to) ? v4 : v6).get(via);
}

/** A stated source that no host can send from: hosts drop its packets (RFC 1122 §3.2.1.3). */
function sourceFate({ source, interface: via, vlan }: Leg): Fate | undefined {
  if (source === undefined || source === via?.address || source === via?.address6) return undefined;
  const fault = sourceFault(source, vlan);
  return fault === undefined || fault.kind === 'link-local' ? undefined : DENIED['unusable source'];
}

/** From one switch to another in a VLAN whose id no trunk can tag (IEEE 802.1Q-2022 §9.6). */
function crossesTrunkUntagged(leg: Leg, taker: ReceiverLeg): boolean {
  const here = leg.interface?.port?.switch;
  const there = taker.interface?.port?.switch;
  const id = leg.vlan?.id;
  return (
    here !== undefined &&
    there !== undefined &&
    here !== there &&
    leg.vlan === taker.vlan &&
    id !== undefined &&
    !isVlanId(id)
  );
}

/** Computed packets, and an MTU that is stated: of a VLAN, else of a port on the way. Switches break none up. */
function isTooLarge(leg: Leg, taker: ReceiverLeg, { network, rates }: SpoilModel): boolean {
  const rate = rates.of(leg)?.rate;
  if (rate?.basis !== 'computed') return false;
  const octets = rate.largestIpOctets;
  const mtus = [leg.vlan?.mtu, taker.vlan?.mtu].filter((mtu) => mtu !== undefined);
  if (mtus.length > 0) return mtus.some((mtu) => mtu < octets);
  return portsBetween(leg, taker, network).some((port) => port?.mtu !== undefined && port.mtu < octets);
}

/** Both hosts' ports, and those of links between them where one VLAN leads there. */
function portsBetween(leg: Leg, taker: ReceiverLeg, network: Network): readonly (Port | undefined)[] {
  const ends = [leg.interface?.port, taker.interface?.port];
  const start = network.forwardingOf(leg);
  const [from, to] = ends.map((port) => (port === undefined ? undefined : start?.segment.nodeOf.get(port.switch)));
  if (start === undefined || from === undefined || to === undefined || network.forwardingOf(taker) !== start)
    return ends;
  const steps = start.tree.path(from, to) ?? [];
  return [...ends, ...steps.flatMap(({ edge }) => edge.links.flatMap((link) => link.ends.map(({ port }) => port)))];
}

/** Legs that come to one place. */
type Sharing = Pick<GroupUse, 'legs'>;

/** Uses of groups in which senders clash, and addresses whose ports several streams share, by their legs. */
function usesThatClash({ groups, plan, network }: SpoilModel): ReadonlyMap<Leg, readonly Sharing[]> {
  const found = new Map<Leg, Sharing[]>();
  for (const use of groups.shared.filter(sendersClash)) for (const leg of use.legs) append(found, leg, use);
  for (const shared of sharedPorts(plan, network)) for (const leg of shared.legs) append(found, leg, shared);
  return found;
}

/** Another sender's packets of the group come to the same UDP port, and nothing keeps them out. */
function isMixed(use: Sharing, leg: Leg, taker: ReceiverLeg, wayOf: (leg: Leg, taker: ReceiverLeg) => Fate): boolean {
  return use.legs.some(
    (other) =>
      other.sender !== leg.sender &&
      (other.port === undefined || leg.port === undefined || other.port === leg.port) &&
      denialOf(wayOf(other, taker)) === undefined,
  );
}
