/**
 * A plan as switches of Open vSwitch: one bridge a switch, one veth pair a link with 802.1Q tags on it, one namespace a
 * host interface.
 *
 * Refuses plans that say something else of a switch than what Open vSwitch does.
 */
import type { Plan, Port, Switch, Vlan } from '../../src/plan/types.js';
import { isRouterPort, linkName, listedTrunk, portOf, vlanOf, type Fabric, type LinkEndSpec } from './spec.js';

export function vswitchOf(plan: Plan): Fabric {
  for (const vlan of plan.vlans) refuseOtherVlans(plan, vlan);
  if (plan.vlans.length > 1 && plan.switches.some((one) => one.routerPorts.length > 0))
    throw new Error('Open vSwitch sends what any VLAN carries out of a router port set by hand');
  const looped = isLooped(plan);
  const ports = new Map<Port, string>();
  const nameOf = (port: Port): string => {
    const name = ports.get(port) ?? `p${ports.size}`;
    ports.set(port, name);
    return name;
  };
  const links = plan.links.map((link): Fabric['links'][number] => {
    const [near, far] = link.ends.map(({ port }) => port);
    if (near === undefined || far === undefined) throw new Error('a link leads nowhere');
    const end = (own: Port, other: Port): LinkEndSpec => ({
      switch: own.switch.name,
      port: nameOf(own),
      settings: trunkSettings(own, looped),
      arrives: arrivals(other, own),
    });
    return { name: link.name ?? '', ends: [end(near, far), end(far, near)] };
  });
  return {
    switches: plan.switches.map((one) => ({ name: one.name, settings: switchSettings(one, plan, looped) })),
    bridges: [],
    links,
    portOf: (one) => {
      const port = portOf(one);
      return { switch: port.switch.name, port: nameOf(port), settings: accessSettings(port, vlanOf(one), looped) };
    },
  };
}

/** Whether a tree must break a loop: then every switch runs RSTP. */
export function isLooped({ links, switches }: Plan): boolean {
  return links.length >= switches.length;
}

/** Open vSwitch has no querier, takes no hello for one, and snoops in all VLANs of a switch or in none. */
function refuseOtherVlans(plan: Plan, { name, igmp, mld, routing }: Vlan): void {
  if (igmp?.snooping === undefined) throw new Error('the plan must say whether a VLAN snoops');
  if (igmp.snooping !== plan.vlans[0]?.igmp?.snooping || (mld !== undefined && mld.snooping !== igmp.snooping))
    throw new Error(`${name}: Open vSwitch snoops in all VLANs of a switch or in none`);
  if (routing !== undefined) throw new Error(`${name}: Open vSwitch takes no notice of PIM`);
  for (const { on } of [...igmp.queriers, ...(mld?.queriers ?? [])])
    if (on !== undefined && 'ports' in on) throw new Error(`${on.name}: Open vSwitch does not query`);
  if (mld !== undefined) {
    const asking = (queriers: typeof igmp.queriers): string => queriers.map(({ on }) => on?.name).join(' ');
    if (asking(igmp.queriers) !== asking(mld.queriers))
      throw new Error(`${name}: a router port of Open vSwitch is one for IPv4 and IPv6 alike`);
  }
}

function switchSettings(one: Switch, plan: Plan, looped: boolean): readonly string[] {
  if (one.snoopingKey !== 'group') throw new Error(`${one.name}: Open vSwitch keys by group`);
  if (one.noQuerier !== 'prune') throw new Error(`${one.name}: Open vSwitch does not flood for want of a querier`);
  if (one.unregistered === undefined) throw new Error(`${one.name}: the plan must say what is not registered`);
  if (one.groupTableSize !== undefined) throw new Error(`${one.name}: a full table of Open vSwitch forgets the oldest`);
  const snoops = one.snooping ?? plan.vlans[0]?.igmp?.snooping;
  return [
    `mcast_snooping_enable=${String(snoops)}`,
    `other_config:mcast-snooping-disable-flood-unregistered=${String(one.unregistered === 'drop')}`,
    ...(looped ? treeSettings(one) : []),
  ];
}

/** What is not stated is what a plan takes for it: priority 32768. Ties would go by addresses that nobody sets. */
function treeSettings({ name, spanningTree }: Switch): readonly string[] {
  if (spanningTree?.mode !== 'rstp') throw new Error(`${name}: the plan must say that it runs RSTP`);
  return ['rstp_enable=true', `other_config:rstp-priority=${spanningTree.priority ?? 32768}`];
}

/** By IEEE 802.1D-2004 table 17-3, for the 10 Gbit/s of all ports of a rig. */
const COST_10G = 2000;

function trunkSettings(port: Port, looped: boolean): readonly string[] {
  const trunks = [
    `trunks=${listedTrunk(port).map(idOf).join(',')}`,
    ...(looped ? [`other_config:rstp-path-cost=${port.spanningTree?.cost ?? COST_10G}`] : []),
  ];
  return port.native === undefined ? trunks : [...trunks, 'vlan_mode=native-untagged', `tag=${idOf(port.native)}`];
}

function accessSettings(port: Port, vlan: Vlan, looped: boolean): readonly string[] {
  if (port.access !== vlan) throw new Error('a host stands on an access port of its VLAN');
  const asked = ['other_config:mcast-snooping-flood=true', 'other_config:mcast-snooping-flood-reports=true'];
  return [
    `tag=${idOf(vlan)}`,
    ...(isRouterPort(port, vlan) ? asked : []),
    ...(looped ? ['other_config:rstp-enable=false'] : []),
  ];
}

/** What may come in from the other end, by the tag it has. */
function arrivals(from: Port, at: Port): LinkEndSpec['arrives'] {
  const all = new Set([...listedTrunk(from), ...(from.native === undefined ? [] : [from.native])]);
  return Object.fromEntries(
    [...all].map((vlan) => [vlan === from.native ? 0 : idOf(vlan), linkName(from.switch, at.switch, vlan)]),
  );
}

function idOf({ id, name }: Vlan): number {
  if (id === undefined) throw new Error(`${name} has no id`);
  return id;
}
