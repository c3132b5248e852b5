/** Which links and switches a spanning tree is made of. */
import { append } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byCodeUnit } from '../../collections/order.js';
import type { Link, LinkEnd, Plan, Switch } from '../../plan/types.js';
import { vlansOfPort } from '../vlans/index.js';
import type { Segment } from './segment.js';

/** The switch that stands for a pair of switches that act as one, the first by name; any other for itself. */
export type BridgeOf = (one: Switch | undefined) => Switch | undefined;

export function bridgeFinder({ switches }: Plan): BridgeOf {
  const first = new Map<object, Switch>();
  for (const one of switches) {
    if (one.pair === undefined) continue;
    const known = first.get(one.pair);
    if (known === undefined || byName(one, known) < 0) first.set(one.pair, one);
  }
  return (one) => (one?.pair === undefined ? one : (first.get(one.pair) ?? one));
}

/** An aggregate that ends at both switches of a pair is one; what runs between the two of a pair is no link of a tree. */
export function joinPairs(bundles: readonly NonEmpty<Link>[], bridgeOf: BridgeOf): readonly NonEmpty<Link>[] {
  const found: [Link, ...Link[]][] = [];
  const wide = new Map<string, [Link, ...Link[]][]>();
  for (const links of bundles) {
    const [{ ends, aggregate, rig }] = links;
    const own = ends.map((end) => bridgeOf(end.switch));
    if (own[0] === own[1]) continue;
    const named = aggregate === undefined ? [] : kept(wide, `${rig.name} ${aggregate}`, (): [Link, ...Link[]][] => []);
    const same = named.find(([first]) => own.every((one) => first.ends.some((end) => bridgeOf(end.switch) === one)));
    if (same !== undefined) same.push(...links);
    else {
      const bundle: [Link, ...Link[]] = [...links];
      found.push(bundle);
      named.push(bundle);
    }
  }
  return found;
}

export function segmentsByLink(segments: Iterable<Segment>): ReadonlyMap<Link, readonly Segment[]> {
  const found = new Map<Link, Segment[]>();
  for (const segment of segments)
    for (const { links } of segment.edges) for (const link of links) append(found, link, segment);
  return found;
}

/**
 * Whether a link is one between bridges. An untagged port that is a switch's only one in its VLAN is that switch's own foot
 * there, for management or between routers: leaf and spine are cabled so, and management ports. Nothing is bridged through
 * it, and no tree runs over it (common practice, no source); nor over a link that is stated to be routed.
 */
export function isSwitched(link: Link, carrying: ReadonlyMap<Link, readonly Segment[]>): boolean {
  const [segment, ...others] = (carrying.get(link) ?? []).filter(
    ({ domain: { vlans } }) => !vlans.every(({ transit }) => transit !== undefined),
  );
  return segment !== undefined && (others.length > 0 || !link.ends.some((end) => isFoot(end, link, segment)));
}

function isFoot({ switch: one, port }: LinkEnd, link: Link, { domain: { vlans }, ...segment }: Segment): boolean {
  const node = one === undefined ? undefined : segment.nodeOf.get(one);
  if (one === undefined || node === undefined || port?.access === undefined) return false;
  if ((segment.hostsAt[node]?.length ?? 0) > 0) return false;
  const [edge, ...more] = segment.edgesAt[node] ?? [];
  const ownPorts = new Set(edge?.links.flatMap(({ ends }) => ends.map((end) => end.port)));
  return (
    more.length === 0 &&
    edge?.links.every(
      (other) => other === link || (other.aggregate !== undefined && other.aggregate === link.aggregate),
    ) === true &&
    ![...one.ports.values()].some(
      (other) => !ownPorts.has(other) && vlansOfPort(other).some((vlan) => vlans.includes(vlan)),
    )
  );
}

export function byName(a: Switch, b: Switch): number {
  return byCodeUnit(a.name, b.name) || byCodeUnit(a.rig.name, b.rig.name);
}
