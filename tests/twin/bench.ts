/**
 * A plan as a set of Linux bridges. One bridge stands for a VLAN on a switch, one veth pair for a VLAN on a link, one
 * namespace for a host interface.
 *
 * Refuses plans that say something else of a switch than what a Linux bridge does.
 */
import { membershipS, otherQuerierPresentS } from './timers.js';
import type { GroupManagement, Interface, Leg, Plan, Port, ReceiverLeg, Switch, Vlan } from '../../src/plan/types.js';
import { formatAddress, type Address } from '../../src/values/address.js';

/** What the driver is asked to do. */
export interface BenchSpec {
  readonly switches: readonly string[];
  readonly bridges: readonly {
    readonly name: string;
    readonly switch: string;
    readonly options: string;
    readonly address?: string | undefined;
  }[];
  readonly hosts: readonly (PortSpec & {
    readonly name: string;
    readonly address: string;
    readonly igmpVersion?: number | undefined;
  })[];
  readonly links: readonly { readonly ends: readonly [LinkEndSpec, LinkEndSpec] }[];
  readonly streams: readonly { readonly host: string; readonly group: string }[];
  readonly steps: readonly StepSpec[];
}

interface PortSpec {
  readonly switch: string;
  readonly port: string;
  readonly bridge: string;
  readonly options: string;
}

/** `arrives` names the direction whose frames come in at this end. */
type LinkEndSpec = PortSpec & { readonly arrives: string };

export type StepSpec =
  | { readonly do: 'wait'; readonly seconds: number }
  | { readonly do: 'join'; readonly host: string; readonly group: string; readonly source?: string | undefined }
  /** `aloud`: with a leave message of IGMPv2, whether the kernel sends one or not. */
  | { readonly do: 'leave'; readonly host: string; readonly group: string; readonly aloud?: boolean }
  | { readonly do: 'query'; readonly host: string; readonly version: number }
  | { readonly do: 'hello' | 'silence'; readonly host: string }
  | { readonly do: 'bridge'; readonly switch: string; readonly name: string; readonly options: string }
  | { readonly do: 'send' };

/** What a plan cannot say. */
export interface Extras {
  /** Steps after the first time all senders have sent. */
  readonly then?: readonly StepSpec[];
  /** Further settings of every bridge port, as `ip link set … type bridge_slave` takes them. */
  readonly portOptions?: string;
  /** IGMP version of hosts that speak it whatever they hear. */
  readonly hostVersions?: Readonly<Record<string, number>>;
  /** Version of the bridges where the plan's, the lowest in the VLAN, is that of a device. */
  readonly bridgeVersion?: number;
  /** Switches that do not snoop at all. */
  readonly unmanaged?: readonly string[];
  /** How long to wait before the first send, where the timers do not decide it. */
  readonly settleS?: number;
  /** How long receivers wait before they join. */
  readonly joinAfterS?: number;
}

/** The bench of a plan: it speaks, joins, waits until reports and elections are through, and sends once. */
export function benchOf(plan: Plan, extras: Extras = {}): BenchSpec {
  for (const one of plan.switches) refuseOthers(one);
  const ends = new Ends(plan, extras);
  const hosts = plan.interfaces.map((one) => ({
    ...ends.of(portOf(one), vlanOf(one)),
    name: hostName(one),
    address: textOf(one.address),
    igmpVersion: extras.hostVersions?.[hostName(one)],
  }));
  const links = plan.links.flatMap((link) => {
    const [near, far] = link.ends.map(({ port }) => port);
    if (near === undefined || far === undefined) throw new Error('a link leads nowhere');
    return sharedVlans(near, far, link.vlans).map((vlan): BenchSpec['links'][number] => ({
      ends: [
        { ...ends.of(near, vlan), arrives: linkName(far.switch, near.switch, vlan) },
        { ...ends.of(far, vlan), arrives: linkName(near.switch, far.switch, vlan) },
      ],
    }));
  });
  return {
    switches: plan.switches.map((one) => one.name),
    bridges: ends.bridges(),
    hosts,
    links,
    streams: plan.legs.map((leg) => ({ host: hostName(interfaceOf(leg)), group: textOf(leg.group) })),
    steps: [
      ...speakSteps(plan),
      ...waitSteps(extras.joinAfterS),
      ...joinSteps(plan),
      { do: 'wait', seconds: extras.settleS ?? settleS(plan) },
      { do: 'send' },
      ...(extras.then ?? []),
    ],
  };
}

/**
 * Until a querier that lost the election is forgotten and the winner has asked again; and in any case until the kernel has
 * noticed that a port has a carrier, which it looks for once a second.
 */
export function settleS(plan: Plan): number {
  return Math.max(
    1.5,
    ...plan.vlans.flatMap(({ igmp }) =>
      igmp?.snooping === true ? [otherQuerierPresentS(igmp) + (igmp.queryIntervalS ?? 0) + 0.5] : [],
    ),
  );
}

export function hostName(one: Interface): string {
  return one.device.name;
}

/** `from>to@vlan`. */
export function linkName(from: Switch, to: Switch, vlan: Vlan): string {
  return `${from.name}>${to.name}@${vlan.name}`;
}

function refuseOthers(one: Switch): void {
  if (one.snoopingKey !== 'source-group') throw new Error(`${one.name}: a Linux bridge keys by source and group`);
  if (one.noQuerier !== 'flood') throw new Error(`${one.name}: a Linux bridge floods while it hears no querier`);
  if (one.unregistered !== 'drop')
    throw new Error(`${one.name}: a Linux bridge that hears a querier drops what nobody joined`);
  if (one.groupTableSize !== undefined && one.tableFull !== 'flood')
    throw new Error(`${one.name}: a Linux bridge floods when its table is full`);
}

/** Hands out interface names, one a port and VLAN, and collects the bridges they hang on. */
class Ends {
  private readonly made = new Map<string, { readonly on: Switch; readonly vlan: Vlan; readonly name: string }>();
  private count = 0;

  constructor(
    private readonly plan: Plan,
    private readonly extras: Extras,
  ) {}

  of(port: Port, vlan: Vlan): PortSpec {
    const name = `br${this.plan.vlans.indexOf(vlan)}`;
    this.made.set(`${port.switch.name} ${name}`, { on: port.switch, vlan, name });
    const options = [this.extras.portOptions ?? '', vlan.igmp?.fastLeave === true ? 'fastleave on' : '']
      .filter((one) => one !== '')
      .join(' ');
    return { switch: port.switch.name, port: `p${this.count++}`, bridge: name, options };
  }

  bridges(): BenchSpec['bridges'] {
    return [...this.made.values()].map(({ on, vlan, name }) => ({
      name,
      switch: on.name,
      options: bridgeOptions(on, vlan.igmp, this.extras),
      address: querierAddress(on, vlan),
    }));
  }
}

function bridgeOptions(on: Switch, igmp: GroupManagement | undefined, extras: Extras): string {
  if (igmp?.snooping === undefined) throw new Error('the plan must say whether a VLAN snoops');
  if (!igmp.snooping || extras.unmanaged?.includes(on.name) === true) return 'mcast_snooping 0';
  const { version, queryIntervalS, queryResponseIntervalS, lastMemberQueryIntervalS } = igmp;
  if (
    version === undefined ||
    queryIntervalS === undefined ||
    queryResponseIntervalS === undefined ||
    lastMemberQueryIntervalS === undefined
  ) {
    throw new Error('the plan must say version and timers of a VLAN that snoops');
  }
  const settings: Readonly<Record<string, number>> = {
    mcast_snooping: 1,
    mcast_igmp_version: extras.bridgeVersion ?? version,
    mcast_query_interval: centiseconds(queryIntervalS),
    mcast_startup_query_interval: centiseconds(queryIntervalS),
    mcast_query_response_interval: centiseconds(queryResponseIntervalS),
    mcast_last_member_interval: centiseconds(lastMemberQueryIntervalS),
    mcast_membership_interval: centiseconds(membershipS(igmp)),
    mcast_querier_interval: centiseconds(otherQuerierPresentS(igmp)),
    ...(on.groupTableSize === undefined ? {} : { mcast_hash_max: on.groupTableSize }),
  };
  return Object.entries(settings)
    .flatMap(([name, value]) => [name, String(value)])
    .join(' ');
}

function querierAddress(on: Switch, vlan: Vlan): string | undefined {
  const found = vlan.igmp?.snooping === true ? vlan.igmp.queriers.find((one) => one.on === on) : undefined;
  return found === undefined ? undefined : textOf(found.address);
}

/** Devices that query or route say so themselves; those that route query too, as PIM routers do. */
function speakSteps(plan: Plan): readonly StepSpec[] {
  return plan.vlans.flatMap((vlan) => {
    if (vlan.igmp?.snooping !== true) return [];
    const inside = plan.interfaces.filter((one) => one.vlan === vlan);
    const routers = inside.filter((one) => vlan.routing?.routers.includes(one.device) === true);
    const queriers = inside.filter(
      (one) => routers.includes(one) || vlan.igmp?.queriers.some(({ on }) => on === one.device) === true,
    );
    return [
      ...queriers.map((one): StepSpec => ({ do: 'query', host: hostName(one), version: vlan.igmp?.version ?? 3 })),
      ...routers.map((one): StepSpec => ({ do: 'hello', host: hostName(one) })),
    ];
  });
}

function waitSteps(seconds: number | undefined): readonly StepSpec[] {
  return seconds === undefined ? [] : [{ do: 'wait', seconds }];
}

function joinSteps(plan: Plan): readonly StepSpec[] {
  return plan.receiverLegs.map((leg) => {
    if (leg.interface === undefined || leg.group === undefined) throw new Error(`${leg.receiver.label} joins nothing`);
    const source = sourceOf(leg);
    return {
      do: 'join',
      host: hostName(leg.interface),
      group: textOf(leg.group),
      ...(source === undefined ? {} : { source: textOf(source) }),
    };
  });
}

/** RFC 3376 §3.2: a socket asks for one source, or for any. */
function sourceOf({ join, source, takes }: ReceiverLeg): Address | undefined {
  if (join === 'any') return undefined;
  if (source !== undefined || join === 'stated') return source ?? takes?.source;
  return takes?.sourceStated === true ? takes.source : undefined;
}

function sharedVlans(near: Port, far: Port, stated: readonly Vlan[] | undefined): readonly Vlan[] {
  const [ours, theirs] = [near.trunk, far.trunk];
  if (ours === undefined || theirs === undefined || ours === 'all' || theirs === 'all')
    throw new Error('the plan must list the VLANs of a trunk');
  return ours.filter((vlan) => theirs.includes(vlan) && stated?.includes(vlan) !== false);
}

function portOf(one: Interface): Port {
  if (one.port === undefined) throw new Error(`${one.device.name} is on no port`);
  return one.port;
}

function vlanOf(one: Interface): Vlan {
  if (one.vlan === undefined) throw new Error(`${one.device.name} is in no VLAN`);
  return one.vlan;
}

function interfaceOf(leg: Leg): Interface {
  if (leg.interface === undefined) throw new Error(`${leg.sender.label} leaves by no interface`);
  return leg.interface;
}

function textOf(address: Address | undefined): string {
  if (address === undefined) throw new Error('an address is missing');
  return formatAddress(address);
}

function centiseconds(seconds: number): number {
  return Math.round(seconds * 100);
}
