/**
 * A segment: one switched domain as a graph of switches and the links that carry it between them.
 *
 * Parallel links between two switches count as one edge of several members (IEEE 802.1AX aggregates and links a plan
 * merely lists side by side alike: either a bundle or blocked by the spanning tree, the other ones take over).
 *
 * Where the graph has loops, frames follow a spanning tree whose root the plan does not fix; `looped` says so, and what
 * depends on the choice is given as a range or judged by the worst.
 */
import type { Interface, Link, Plan, Port, Switch } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';

/** Links between one pair of switches, all of which carry the segment. */
export interface Edge {
  readonly id: number;
  /** Node numbers of its ends, the smaller first. */
  readonly a: number;
  readonly b: number;
  readonly links: readonly Link[];
  /** Sum of the members' rates; undefined when any is unknown. */
  readonly rateBps: number | undefined;
}

export interface Segment {
  readonly domain: Domain;
  readonly nodes: readonly Switch[];
  readonly nodeOf: ReadonlyMap<Switch, number>;
  readonly edges: readonly Edge[];
  /** Edges at each node. */
  readonly edgesAt: readonly (readonly Edge[])[];
  /** Interfaces patched to each node's switch in this segment. */
  readonly hostsAt: readonly (readonly Interface[])[];
  /** True when there is more than one way between some pair of switches. */
  readonly looped: boolean;
}

/** Every switched domain that has a switch, in the order its first port or interface stands in the plan. */
export function buildSegments(plan: Plan, domains: Domains): ReadonlyMap<Domain, Segment> {
  const drafts = new Map<Domain, Draft>();
  const draftOf = (domain: Domain): Draft => {
    let draft = drafts.get(domain);
    if (draft === undefined)
      drafts.set(domain, (draft = { domain, nodes: [], nodeOf: new Map(), bundles: new Map(), hosts: [] }));
    return draft;
  };
  for (const vlan of plan.vlans) {
    for (const one of plan.switches) {
      const domain = domains.onSwitch(one, vlan);
      if (domain !== undefined && hasVlan(one, domain)) nodeIn(draftOf(domain), one);
    }
  }
  for (const link of plan.links) {
    const [first, second] = link.ends;
    if (first.switch === undefined || second.switch === undefined || first.switch === second.switch) continue;
    for (const domain of domains.overLink(link)) addLink(draftOf(domain), link, first.switch, second.switch);
  }
  for (const one of plan.interfaces) {
    if (one.port === undefined || one.vlan === undefined) continue;
    const draft = draftOf(domains.switched(one));
    const node = nodeIn(draft, one.port.switch);
    draft.hosts[node]?.push(one);
  }
  return new Map([...drafts].map(([domain, draft]) => [domain, finish(draft)]));
}

interface Draft {
  readonly domain: Domain;
  readonly nodes: Switch[];
  readonly nodeOf: Map<Switch, number>;
  readonly bundles: Map<string, { readonly a: number; readonly b: number; readonly links: Link[] }>;
  readonly hosts: Interface[][];
}

function hasVlan(one: Switch, domain: Domain): boolean {
  const vlans = new Set(domain.vlans);
  const onPort = (port: Port): boolean =>
    (port.access !== undefined && vlans.has(port.access)) ||
    (port.native !== undefined && vlans.has(port.native)) ||
    (port.trunk !== undefined && port.trunk !== 'all' && port.trunk.some((vlan) => vlans.has(vlan)));
  return (
    one.addresses.some((held) => held.vlan !== undefined && vlans.has(held.vlan)) ||
    [...one.ports.values()].some(onPort)
  );
}

function nodeIn(draft: Draft, one: Switch): number {
  const known = draft.nodeOf.get(one);
  if (known !== undefined) return known;
  const node = draft.nodes.length;
  draft.nodes.push(one);
  draft.hosts.push([]);
  draft.nodeOf.set(one, node);
  return node;
}

function addLink(draft: Draft, link: Link, first: Switch, second: Switch): void {
  const x = nodeIn(draft, first);
  const y = nodeIn(draft, second);
  const [a, b] = x < y ? [x, y] : [y, x];
  const key = `${a} ${b}`;
  const bundle = draft.bundles.get(key);
  if (bundle === undefined) draft.bundles.set(key, { a, b, links: [link] });
  else bundle.links.push(link);
}

function finish(draft: Draft): Segment {
  const edges = [...draft.bundles.values()].map(({ a, b, links }, id): Edge => ({
    id,
    a,
    b,
    links,
    rateBps: rateOfLinks(links),
  }));
  const edgesAt: Edge[][] = draft.nodes.map(() => []);
  for (const edge of edges) {
    edgesAt[edge.a]?.push(edge);
    edgesAt[edge.b]?.push(edge);
  }
  const { domain, nodes, nodeOf, hosts } = draft;
  return {
    domain,
    nodes,
    nodeOf,
    edges,
    edgesAt,
    hostsAt: hosts,
    looped: edges.length > nodes.length - componentCount(nodes.length, edges),
  };
}

function componentCount(nodes: number, edges: readonly Edge[]): number {
  const parent = Array.from({ length: nodes }, (_, node) => node);
  const find = (node: number): number => {
    let at = node;
    while (parent[at] !== at) at = parent[at] = parent[parent[at] ?? at] ?? at;
    return at;
  };
  let count = nodes;
  for (const { a, b } of edges) {
    const x = find(a);
    const y = find(b);
    if (x === y) continue;
    parent[y] = x;
    count--;
  }
  return count;
}

/** Whether links side by side are members of one stated aggregate, and so one port to their switches. */
export function areOneAggregate([first, ...others]: readonly Link[]): boolean {
  return first?.aggregate !== undefined && others.every((link) => link.aggregate === first.aggregate);
}

/** Sum of what links carry; undefined when the rate of any is unknown. */
export function rateOfLinks(links: readonly Link[]): number | undefined {
  let sum = 0;
  for (const link of links) {
    const rate = linkRate(link);
    if (rate === undefined) return undefined;
    sum += rate;
  }
  return sum;
}

/** The rate a link states, else the lower one of its ports. */
export function linkRate(link: Link): number | undefined {
  return link.rateBps ?? lesser(link.ends[0].port?.rateBps, link.ends[1].port?.rateBps);
}

function lesser(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined ? b : b === undefined ? a : Math.min(a, b);
}

/** The other end of an edge. */
export function across(edge: Edge, node: number): number {
  return edge.a === node ? edge.b : edge.a;
}

/** Whether a link goes from the smaller node of its edge to the larger one. */
export function isForward({ nodes }: Segment, edge: Edge, link: Link): boolean {
  return link.ends[0].switch === nodes[edge.a];
}
