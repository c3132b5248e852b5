/**
 * Facts a plan may or may not state. A rule lists the facts it needs; where a plan lacks one, the summary says which
 * area could not be judged and what to write so that it can.
 */
import type { GroupManagement, Plan, Port, PtpSettings, Switch } from '../plan/types.js';
import { linkRate } from './network/index.js';
import { unusualLegs } from './streams/index.js';
import { isCircuit } from './vlans/index.js';
import { usedFormats, usedNetworks, usedVlans } from './written/index.js';

export interface Fact {
  /** What is missing, for the summary. */
  readonly title: string;
  /** What to write. */
  readonly write: string;
  /** Whether the plan states it anywhere. */
  readonly stated: (plan: Plan) => boolean;
  /** True when its absence means there is nothing to judge, so the summary keeps silent about it. */
  readonly optional: boolean;
}

export const FACTS = {
  groups: fact('multicast groups of senders', 'give each sender leg a `group`', (plan) =>
    plan.legs.some((leg) => leg.group !== undefined),
  ),
  sources: fact('source addresses', 'give interfaces an `address`, or sender legs a `source`', (plan) =>
    plan.legs.some((leg) => leg.source !== undefined),
  ),
  streamPorts: fact('UDP ports of streams', 'give each sender leg a `port`', (plan) =>
    plan.legs.some((leg) => leg.port !== undefined),
  ),
  ttl: optional('TTL of streams', 'give sender legs a `ttl`', (plan) => plan.legs.some((leg) => leg.ttl !== undefined)),
  unicast: optional(
    'unicast streams',
    'give sender legs a `unicast` destination',
    (plan) => unusualLegs(plan).stateUnicast,
  ),
  pairs: optional('redundant pairs', 'give senders a second leg', (plan) =>
    plan.senders.some((sender) => sender.legs.length > 1),
  ),
  receivers: fact('receivers', 'list what each device receives under `receivers`', (plan) => plan.receivers.length > 0),
  receiverPayloadTypes: optional('payload types of receivers', 'give receiver legs a `payloadType`', (plan) =>
    plan.receiverLegs.some((leg) => leg.payloadType !== undefined),
  ),
  receiverPorts: optional('UDP ports of receivers', 'give receiver legs a `port`', (plan) =>
    plan.receiverLegs.some((leg) => leg.port !== undefined),
  ),
  payloadTypes: fact('RTP payload types', 'give each sender leg a `payloadType`', (plan) =>
    plan.legs.some((leg) => leg.payloadType !== undefined),
  ),
  receiverFormats: optional('formats of receivers', 'give receivers a `format`', (plan) =>
    plan.receivers.some((receiver) => receiver.format !== undefined),
  ),
  descriptions: optional(
    'descriptions beside the plan',
    'add the SDP files or the stream list',
    (plan) => plan.descriptions.length > 0,
  ),
  groupVersions: fact('IGMP and MLD versions', 'state `igmp: {version: 3}` in each media VLAN', (plan) =>
    someManagement(plan, (one) => one.version !== undefined),
  ),
  igmpVersion: fact('IGMP versions', 'state `igmp: {version: 3}` in each media VLAN', (plan) =>
    plan.vlans.some((vlan) => vlan.igmp?.version !== undefined),
  ),
  snooping: fact('IGMP and MLD snooping', 'state `igmp: {snooping: true}` in each media VLAN', (plan) =>
    someManagement(plan, (one) => one.snooping !== undefined),
  ),
  queriers: fact('queriers', 'name who queries: `igmp: {querier: [{on: …, address: …}]}`', (plan) =>
    someManagement(plan, (one) => one.queriers.length > 0),
  ),
  groupManagement: optional('IGMP and MLD settings', 'state `igmp` in each media VLAN', (plan) =>
    someManagement(plan, () => true),
  ),
  fastLeave: optional('fast leave', 'state `igmp: {fastLeave: …}`', (plan) =>
    someManagement(plan, (one) => one.fastLeave !== undefined),
  ),
  unregistered: optional(
    'what happens to groups nobody joined',
    'state `unregistered` in VLANs or switches',
    (plan) =>
      someManagement(plan, (one) => one.unregistered !== undefined) ||
      plan.switches.some((one) => one.unregistered !== undefined),
  ),
  practiceIgmpVersion: optional('the IGMP version of the practice', 'state `practice: {igmpVersion: 3}`', (plan) =>
    plan.rigs.some((rig) => rig.practice.igmpVersion !== undefined),
  ),
  snoopingKeys: optional(
    'how switches key their group tables',
    'give switches a `snoopingKey`',
    (plan) => plan.switches.length > 0,
  ),
  joins: optional('how receivers join', 'give receiver legs a `join`', (plan) =>
    plan.receiverLegs.some((leg) => leg.join !== undefined),
  ),
  rendezvousPoints: optional('rendezvous points', 'state `rp` in the `routing` of VLANs', (plan) =>
    plan.vlans.some((vlan) => (vlan.routing?.rendezvousPoints.length ?? 0) > 0),
  ),
  multicastRouting: fact('multicast routing', 'state `routing` in each routed VLAN', (plan) =>
    plan.vlans.some((vlan) => vlan.routing !== undefined),
  ),
  devices: fact('devices', 'list `devices`', (plan) => plan.devices.length > 0),
  addresses: fact('interface addresses', 'give interfaces an `address`', (plan) =>
    plan.interfaces.some((one) => one.address !== undefined || one.address6 !== undefined),
  ),
  prefixLengths: fact(
    'prefix lengths of interfaces',
    'write interface addresses with their prefix: `10.1.2.3/24`',
    (plan) => plan.interfaces.some((one) => one.prefixLength !== undefined || one.prefixLength6 !== undefined),
  ),
  macs: fact('MAC addresses', 'give interfaces a `mac`', (plan) =>
    plan.interfaces.some((one) => one.mac !== undefined),
  ),
  hostGateways: optional('gateways of hosts', 'give interfaces a `gateway`', (plan) =>
    plan.interfaces.some((one) => one.gateway !== undefined),
  ),
  interfaceVlans: fact('VLANs of interfaces', 'give interfaces a `vlan`', (plan) =>
    plan.interfaces.some((one) => one.vlan !== undefined),
  ),
  vlanIds: fact('VLAN ids', 'give each VLAN its 802.1Q `id`', (plan) =>
    plan.vlans.some((vlan) => vlan.id !== undefined),
  ),
  subnets: fact('subnets', 'give each VLAN a `subnet`', (plan) =>
    plan.vlans.some((vlan) => vlan.subnet !== undefined || vlan.subnet6 !== undefined),
  ),
  gateways: fact('gateways of VLANs', 'give routed VLANs a `gateway`', (plan) =>
    plan.vlans.some((vlan) => vlan.gateway !== undefined || vlan.gateway6 !== undefined),
  ),
  dhcp: optional('DHCP ranges', 'give VLANs with a DHCP server a `dhcp` range', (plan) =>
    plan.vlans.some((vlan) => vlan.dhcp !== undefined),
  ),
  rigJoins: optional('how rigs are joined', 'list `joins` in a file of its own', (plan) => plan.joins.length > 0),
  networks: fact('networks', 'list `networks` and name one in each VLAN', (plan) => plan.networks.length > 0),
  switchPorts: fact('switch ports of interfaces', 'give interfaces a `port`: `leaf-a/12`', (plan) =>
    plan.interfaces.some((one) => one.port !== undefined),
  ),
  portVlans: fact('VLANs of switch ports', 'give switch ports `access` or `trunk`', (plan) =>
    plan.switches.some((one) => anyPort(one, (port) => port.access !== undefined || port.trunk !== undefined)),
  ),
  vlanMembers: optional(
    'who is in which VLAN',
    'give interfaces a `vlan`',
    (plan) => plan.interfaces.some((one) => one.vlan !== undefined) || usedVlans(plan).size > 0,
  ),
  networkMembers: optional(
    'what is on which network',
    'give VLANs a `network`',
    (plan) => plan.vlans.some((vlan) => vlan.network !== undefined) || usedNetworks(plan).size > 0,
  ),
  kindMembers: optional('devices of a kind', 'give devices a `kind`', (plan) => plan.kinds.some((kind) => kind.used)),
  formatMembers: optional(
    'formats of streams',
    'give senders a `format`',
    (plan) => plan.senders.some((sender) => sender.format !== undefined) || usedFormats(plan).size > 0,
  ),
  portMtus: fact('MTUs of switches', 'give switches an `mtu`', (plan) =>
    plan.switches.some((one) => one.mtu !== undefined || anyPort(one, (port) => port.mtu !== undefined)),
  ),
  links: fact('links between switches', 'list `links`', (plan) => plan.links.length > 0),
  linkRates: fact('rates of links', 'give links, or their ports, a `rate`', (plan) =>
    plan.links.some((link) => linkRate(link) !== undefined),
  ),
  portRates: fact('rates of switch ports', 'give switch ports a `rate`', (plan) =>
    plan.interfaces.some((one) => one.rateBps !== undefined || one.port?.rateBps !== undefined),
  ),
  circuits: optional('circuits', 'give links over a provider a `rate` and a `delay`', (plan) =>
    plan.links.some(isCircuit),
  ),
  formats: fact('formats of streams', 'give senders a `format`', (plan) =>
    plan.senders.some((sender) => sender.format !== undefined),
  ),
  extendedPackets: optional('extended packet sizes', 'give formats with large packets a `maxUdp`', (plan) =>
    plan.senders.some(({ format }) => format?.maxUdpOctets !== undefined),
  ),
  groupTables: fact('sizes of group tables', 'give switches a `groupTableSize`', (plan) =>
    plan.switches.some((one) => one.groupTableSize !== undefined),
  ),
  clocks: fact(
    'PTP settings',
    'give devices and switches their `ptp`: `{domain: 127, priority1: 128, slaveOnly: true}`',
    (plan) => someClock(plan, () => true),
  ),
  // Without clocks there is nobody to be meant: then `clocks` alone is missing.
  grandmasters: fact(
    'clocks meant to lead',
    'name them: `timing: {domains: [{number: 127, grandmasters: […]}]}`',
    (plan) =>
      !someClock(plan, () => true) ||
      someClock(plan, (one) => one.grandmaster === true) ||
      plan.ptpDomains.some((one) => one.grandmasters.length > 0),
  ),
  ptpProfiles: optional(
    'PTP profiles',
    'give PTP domains a `profile`',
    (plan) =>
      plan.ptpDomains.some((one) => one.profile !== undefined) || someClock(plan, (one) => one.profile !== undefined),
  ),
  clockCapacities: optional('how many followers clocks can serve', 'give clocks a `capacity`', (plan) =>
    someClock(plan, (one) => one.capacity !== undefined || one.delayRequestCapacity !== undefined),
  ),
  conventionGroups: fact('conventions group ranges', 'state `conventions: {groups: …}`', (plan) =>
    plan.rigs.some((rig) => rig.conventions.groups.length > 0),
  ),
  conventionLegMap: fact('conventions leg-to-leg mapping', 'state `conventions: {legMap: …}`', (plan) =>
    plan.rigs.some(
      (rig) =>
        rig.conventions.groupMap.length > 0 ||
        rig.conventions.sourceMap.length > 0 ||
        rig.conventions.portOffset !== undefined,
    ),
  ),
  linkOffset: optional('link offsets', 'state `timing: {linkOffset: …}`', (plan) =>
    plan.mediaTimings.some((one) => one.linkOffsetNs !== undefined),
  ),
  lipSync: optional('pictures with their sound', 'list `lipSync` in `timing`', (plan) => plan.lipSyncs.length > 0),
  roundTrips: optional('round trips of speech', 'list `roundTrips` in `timing`', (plan) => plan.roundTrips.length > 0),
  referenceClocks: optional(
    'reference clocks of streams',
    'give sender legs a `referenceClock`',
    (plan) => unusualLegs(plan).stateClock,
  ),
  frameRates: optional('frame rates', 'give formats of pictures a `frameRate`', (plan) =>
    plan.senders.some(({ format }) => format?.frameRate !== undefined),
  ),
} as const;

export type FactKey = keyof typeof FACTS;

/** Those of some facts that a plan states nowhere. */
export function unstated(plan: Plan, keys: readonly FactKey[]): readonly FactKey[] {
  return keys.filter((key) => !FACTS[key].stated(plan));
}

function someManagement(plan: Plan, test: (one: GroupManagement) => boolean): boolean {
  return plan.vlans.some(({ igmp, mld }) => (igmp !== undefined && test(igmp)) || (mld !== undefined && test(mld)));
}

function someClock(plan: Plan, test: (one: PtpSettings) => boolean): boolean {
  const holds = ({ ptp }: { readonly ptp: PtpSettings | undefined }): boolean =>
    ptp !== undefined && ptp.mode !== 'none' && test(ptp);
  return plan.devices.some(holds) || plan.switches.some(holds);
}

function anyPort({ ports }: Switch, test: (port: Port) => boolean): boolean {
  for (const port of ports.values()) if (test(port)) return true;
  return false;
}

function fact(title: string, write: string, stated: (plan: Plan) => boolean): Fact {
  return { title, write, stated, optional: false };
}

function optional(title: string, write: string, stated: (plan: Plan) => boolean): Fact {
  return { title, write, stated, optional: true };
}
