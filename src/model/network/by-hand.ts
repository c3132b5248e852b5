/**
 * What people set at single ports of a segment: groups bound to ports, and router ports. It holds at its own switch and no
 * other one knows of it (measured on Linux bridges for router ports).
 */
import { addTo, append } from '../../collections/group-by.js';
import type { Interface, Link, Port, Switch } from '../../plan/types.js';
import { type Address, type AddressRange, inRange } from '../../values/address.js';
import type { Domain } from '../vlans/index.js';
import { forwardingAt } from './conduct.js';
import { areOneAggregate, type Edge, type Segment } from './segment.js';

/** Ways out of one switch. */
export interface Ways {
  readonly links: ReadonlySet<Link>;
  readonly hosts: ReadonlySet<Interface>;
}

export interface ByHand {
  /** The ports a switch binds a group to; undefined where it binds it to none. */
  readonly bound: (node: number, group: Address) => Ways | undefined;
  /** By node. */
  readonly routerPorts: readonly Ways[];
}

/** Undefined where nothing in the segment is set by hand. */
export function buildByHand(segment: Segment): ByHand | undefined {
  const { domain, nodes } = segment;
  const isSet = (one: Switch): boolean =>
    forwardingAt(one, domain) === 'static' ||
    one.routerPorts.some((entry) => holdsIn(entry, domain)) ||
    one.bindings.some((entry) => holdsIn(entry, domain));
  if (!nodes.some(isSet)) return undefined;
  const tables = nodes.map((one, node) =>
    one.bindings.some((entry) => holdsIn(entry, domain)) ? tableOf(one, waysBy(segment, node), domain) : undefined,
  );
  const routerPorts = nodes.map((one, node): Ways => {
    const entries = one.routerPorts.filter((entry) => holdsIn(entry, domain));
    if (entries.length === 0) return NOWHERE;
    const ways = waysBy(segment, node);
    return joined(entries.flatMap(({ ports }) => ports.map(ways)));
  });
  return { bound: (node, group) => tables[node]?.(group), routerPorts };
}

/**
 * Whether the ports are those of an edge: any member's of an aggregate, which is one port to its switch (IEEE 802.1AX: from
 * memory), and of links side by side that of the one that carries.
 */
export function goesOver(
  { links }: Ways,
  edge: Pick<Edge, 'links'>,
  isLost: (link: Link) => boolean = () => false,
): boolean {
  const left = edge.links.filter((link) => !isLost(link));
  const [first] = left;
  if (first === undefined) return false;
  return areOneAggregate(left) ? edge.links.some((link) => links.has(link)) : links.has(first);
}

const NOWHERE: Ways = { links: new Set(), hosts: new Set() };

function holdsIn({ vlan }: Switch['routerPorts'][number], { vlans }: Domain): boolean {
  return vlan === undefined || vlans.includes(vlan);
}

/** Where the ports of a switch lead in the segment: to nothing, to hosts, or over a link or the aggregate it belongs to. */
function waysBy({ edgesAt, hostsAt, nodes }: Segment, node: number): (port: Port) => Ways {
  const links = new Map<Port, Set<Link>>();
  for (const edge of edgesAt[node] ?? []) {
    for (const link of edge.links)
      for (const { switch: on, port } of link.ends)
        if (port !== undefined && on === nodes[node]) addTo(links, port, link);
  }
  const hosts = new Map<Port, Set<Interface>>();
  for (const host of hostsAt[node] ?? []) if (host.port !== undefined) addTo(hosts, host.port, host);
  return (port) => ({ links: links.get(port) ?? NOWHERE.links, hosts: hosts.get(port) ?? NOWHERE.hosts });
}

function joined(ways: readonly Ways[]): Ways {
  return {
    links: new Set(ways.flatMap(({ links }) => [...links])),
    hosts: new Set(ways.flatMap(({ hosts }) => [...hosts])),
  };
}

/** Groups written singly are looked up; blocks and ranges are few. */
function tableOf(one: Switch, ways: (port: Port) => Ways, domain: Domain): (group: Address) => Ways | undefined {
  const single = new Map<Address, Ways[]>();
  const blocks: { readonly range: AddressRange; readonly ways: Ways }[] = [];
  for (const entry of one.bindings) {
    if (!holdsIn(entry, domain)) continue;
    const out = joined(entry.ports.map(ways));
    for (const range of entry.groups) {
      if (range.first !== range.last) blocks.push({ range, ways: out });
      else append(single, range.first, out);
    }
  }
  return (group) => {
    const found = [...(single.get(group) ?? [])];
    for (const { range, ways: out } of blocks) if (inRange(group, range)) found.push(out);
    return found.length < 2 ? found[0] : joined(found);
  };
}
