/** Links and host ports that carry streams though nobody states a rate for them: nobody can tell how full they are. */
import { append } from '../../collections/group-by.js';
import type { Interface, Link, Plan, Port, Vlan } from '../../plan/types.js';
import { unusualInterfaces } from '../hosts/index.js';
import { unusualLegs } from '../streams/index.js';
import type { Domains } from '../vlans/index.js';
import type { Network } from './flows.js';
import type { Load } from './load.js';
import { linkRate } from './segment.js';
import type { Unrated } from './unrated.js';

export interface Rateless {
  /** Those that stand in wait, and would carry streams if another failed, too. In plan order. */
  readonly links: readonly Link[];
  /** By the first interface the plan has at each, in plan order. */
  readonly ports: readonly Port[];
}

/** What is carried; asked for only where a rate is missing. */
export interface Carrying {
  readonly network: Network;
  readonly load: Load;
  readonly unrated: Unrated;
}

export function findRateless(plan: Plan, domains: Domains, carrying: () => Carrying): Rateless {
  const links = doubtfulLinks(plan, domains);
  const ports = doubtfulPorts(plan);
  if (links.length === 0 && ports.length === 0) return { links, ports };
  const carried = carrying();
  const standby = links.length === 0 ? new Set<Link>() : linksInWait(carried.network);
  return {
    links: links.filter((link) => standby.has(link) || carriesLink(link, carried)),
    ports: ports.filter((port) => carriesPort(port, carried)),
  };
}

/** Without a rate, in a VLAN that streams are sent in, taken in or routed through: control needs no rate. */
function doubtfulLinks(plan: Plan, domains: Domains): readonly Link[] {
  const bare = plan.links.filter(
    (link) =>
      linkRate(link) === undefined &&
      link.ends.every((end) => end.switch !== undefined) &&
      link.ends[0].switch !== link.ends[1].switch,
  );
  if (bare.length === 0) return [];
  // A stream to one address may pass VLANs in which nobody sends or takes anything.
  if (unusualLegs(plan).groupless.some(({ unicast }) => unicast !== undefined)) return bare;
  const used = new Set<Vlan | undefined>();
  for (const leg of plan.legs) used.add(leg.vlan);
  for (const leg of plan.receiverLegs) used.add(leg.vlan);
  for (const vlan of plan.vlans) if (vlan.routing !== undefined && vlan.routing.mode !== 'none') used.add(vlan);
  return bare.filter((link) => domains.overLink(link).some(({ vlans }) => vlans.some((vlan) => used.has(vlan))));
}

/** Without a rate at the port and at its first host, whose senders or receivers use it. */
function doubtfulPorts(plan: Plan): readonly Port[] {
  const at = new Map<Port, [Interface, ...Interface[]]>();
  for (const one of unusualInterfaces(plan).ratelessPort) if (one.port !== undefined) append(at, one.port, one);
  return [...at].flatMap(([port, [host]]) => (host.rateBps === undefined ? [port] : []));
}

/** Links of segments with streams that take over, or turn the way of others, when one fails. */
function linksInWait({ flows }: Network): ReadonlySet<Link> {
  const waiting = new Set<Link>();
  for (const { segment } of new Set(flows.map(({ forwarding }) => forwarding)))
    for (const { links } of segment.edges)
      if (segment.looped || links.length > 1) for (const link of links) waiting.add(link);
  return waiting;
}

function carriesLink(link: Link, { load, unrated }: Carrying): boolean {
  const both = load.links.get(link);
  return (both !== undefined && both.there + both.back > 0) || unrated.onLink(link);
}

function carriesPort(port: Port, { load, unrated }: Carrying): boolean {
  const both = load.ports.get(port);
  return (both !== undefined && both.toHost + both.fromHost > 0) || unrated.toHost(port) || unrated.fromHost(port);
}
