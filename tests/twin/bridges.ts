/**
 * A plan as a set of Linux bridges. One bridge stands for a VLAN on a switch, one veth pair for a VLAN on a link, one
 * namespace for a host interface.
 *
 * Refuses plans that say something else of a switch than what a Linux bridge does.
 */
import type { GroupManagement, Plan, Port, Switch, Vlan } from '../../src/plan/types.js';
import {
  boundTo,
  isRouterPort,
  linkName,
  listedTrunk,
  portOf,
  textOf,
  vlanOf,
  type BridgeSpec,
  type Extras,
  type Fabric,
  type PortSpec,
} from './spec.js';
import { membershipS, otherQuerierPresentS } from './timers.js';

export function bridgesOf(plan: Plan, extras: Extras): Fabric {
  for (const one of plan.switches) refuseOthers(one);
  const ends = new Ends(plan, extras);
  // In the order of the plan: hosts, then links.
  const hosts = new Map(plan.interfaces.map((one) => [one, ends.of(portOf(one), vlanOf(one))]));
  const links = plan.links.flatMap((link) => {
    const [near, far] = link.ends.map(({ port }) => port);
    if (near === undefined || far === undefined) throw new Error('a link leads nowhere');
    return sharedVlans(near, far, link.vlans).map((vlan): Fabric['links'][number] => ({
      name: link.name ?? '',
      ends: [
        { ...ends.of(near, vlan), arrives: { 0: linkName(far.switch, near.switch, vlan) } },
        { ...ends.of(far, vlan), arrives: { 0: linkName(near.switch, far.switch, vlan) } },
      ],
    }));
  });
  return {
    switches: plan.switches.map(({ name }) => ({ name })),
    bridges: ends.bridges(),
    links,
    portOf: (one) => hosts.get(one) ?? ends.of(portOf(one), vlanOf(one)),
  };
}

/** The bridge of a VLAN on every switch. */
export function bridgeName(plan: Plan, vlan: Vlan): string {
  return `br${plan.vlans.indexOf(vlan)}`;
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
    const name = bridgeName(this.plan, vlan);
    this.made.set(`${port.switch.name} ${name}`, { on: port.switch, vlan, name });
    const options = [
      this.extras.portOptions ?? '',
      vlan.igmp?.fastLeave === true ? 'fastleave on' : '',
      isRouterPort(port, vlan) ? 'mcast_router 2' : '',
    ]
      .filter((one) => one !== '')
      .join(' ');
    const bound = boundTo(port, vlan);
    return {
      switch: port.switch.name,
      port: `p${this.count++}`,
      bridge: name,
      options,
      ...(bound.length === 0 ? {} : { bound }),
    };
  }

  bridges(): readonly BridgeSpec[] {
    return [...this.made.values()].map(({ on, vlan, name }) => ({
      name,
      switch: on.name,
      options: bridgeOptions(on, vlan, this.extras),
      address: querierAddress(on, vlan.igmp, snoops(on, vlan, this.extras)),
      address6: querierAddress(on, vlan.mld, snoops(on, vlan, this.extras)),
    }));
  }
}

function bridgeOptions(on: Switch, vlan: Vlan, extras: Extras): string {
  const { igmp, mld } = vlan;
  if (igmp === undefined || !snoops(on, vlan, extras)) return 'mcast_snooping 0';
  const { version, queryIntervalS, queryResponseIntervalS, lastMemberQueryIntervalS } = igmp;
  if (
    version === undefined ||
    queryIntervalS === undefined ||
    queryResponseIntervalS === undefined ||
    lastMemberQueryIntervalS === undefined
  ) {
    throw new Error('the plan must say version and timers of a VLAN that snoops');
  }
  if (mld !== undefined && (mld.snooping !== igmp.snooping || mld.queryIntervalS !== queryIntervalS))
    throw new Error('a Linux bridge snoops both protocols, with the same timers');
  const settings: Readonly<Record<string, number>> = {
    mcast_snooping: 1,
    mcast_igmp_version: extras.bridgeVersion ?? version,
    ...(mld?.version === undefined ? {} : { mcast_mld_version: mld.version }),
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

function snoops(on: Switch, { igmp }: Vlan, { unmanaged }: Extras): boolean {
  if (igmp?.snooping === undefined) throw new Error('the plan must say whether a VLAN snoops');
  return (on.snooping ?? igmp.snooping) && unmanaged?.includes(on.name) !== true;
}

function querierAddress(on: Switch, settings: GroupManagement | undefined, snooping: boolean): string | undefined {
  const found = settings?.snooping === true ? settings.queriers.find((one) => one.on === on) : undefined;
  if (found !== undefined && !snooping)
    throw new Error(`${on.name}: a Linux bridge that does not snoop does not query`);
  return found === undefined ? undefined : textOf(found.address);
}

function sharedVlans(near: Port, far: Port, stated: readonly Vlan[] | undefined): readonly Vlan[] {
  if (near.native !== far.native) throw new Error('links of bridges carry no tag, so no VLAN can turn into another');
  const theirs = listedTrunk(far);
  return listedTrunk(near).filter((vlan) => theirs.includes(vlan) && stated?.includes(vlan) !== false);
}

function centiseconds(seconds: number): number {
  return Math.round(seconds * 100);
}
