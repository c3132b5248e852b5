/** What a spanning tree is told of the ports at both ends of a link or an aggregate. */
import { addTo } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Link, LinkEnd, Port, Switch } from '../../plan/types.js';
import { isCircuit } from '../vlans/index.js';
import { linkRate } from './segment.js';
import { pathCost, type TreePort } from './spanning-tree.js';

const DEFAULT_PORT_PRIORITY = 128;

/** The end of a member on the side of the first member's. */
export function sided(first: Link | undefined, link: Link, side: 0 | 1): LinkEnd {
  const bridge = (end: LinkEnd): object | undefined => end.switch?.pair ?? end.switch;
  const same = first === undefined || bridge(first.ends[0]) === bridge(link.ends[0]);
  return link.ends[same ? side : side === 0 ? 1 : 0];
}

export function portAt(
  links: readonly Link[],
  side: 0 | 1,
  places: ReadonlyMap<Switch, number>,
  numbers: ReadonlyMap<Port, number>,
  slowestBps: number,
): TreePort {
  const [first] = links;
  const ends = links.map((link) => sided(first, link, side));
  const owner = ends[0]?.switch;
  const ports = ends.flatMap(({ port }) => port ?? []);
  const stated = ports.flatMap(({ spanningTree: own }) => own ?? []);
  return {
    bridge: owner === undefined ? -1 : (places.get(owner) ?? -1),
    priority: stated.find((own) => own.priority !== undefined)?.priority ?? DEFAULT_PORT_PRIORITY,
    number: lowest(ports.flatMap((port) => numbers.get(port) ?? [])) ?? 0,
    cost:
      stated.find((own) => own.cost !== undefined)?.cost ??
      pathCost(rateAt(links, side) ?? slowestBps, owner?.spanningTree?.method ?? 'long'),
  };
}

/** What all members together run at; a circuit's bought rate is not that of its ports. */
export function rateAt(links: readonly Link[], side: 0 | 1): number | undefined {
  let sum = 0;
  for (const link of links) {
    const rate = (isCircuit(link) ? sided(links[0], link, side).port?.rateBps : undefined) ?? linkRate(link);
    if (rate === undefined) return undefined;
    sum += rate;
  }
  return sum;
}

/** Places of the ports of links at each switch: by the numbers in their names, where equal in the order of the plan. */
export function portNumbers(bundles: readonly NonEmpty<Link>[]): ReadonlyMap<Port, number> {
  const bySwitch = new Map<Switch, Set<Port>>();
  for (const { ends } of bundles.flat())
    for (const { port } of ends) if (port !== undefined) addTo(bySwitch, port.switch, port);
  const found = new Map<Port, number>();
  for (const [owner, ports] of bySwitch) {
    const written = new Map<Port, number>();
    for (const port of owner.ports.values()) if (ports.has(port)) written.set(port, written.size);
    const keys = new Map([...ports].map((port) => [port, (port.name.match(/\d+/g) ?? [Infinity]).map(Number)]));
    const sorted = [...ports].sort(
      (a, b) => compareLists(keys.get(a) ?? [], keys.get(b) ?? []) || (written.get(a) ?? 0) - (written.get(b) ?? 0),
    );
    for (const [place, port] of sorted.entries()) found.set(port, place + 1);
  }
  return found;
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (let index = 0; index < Math.max(a.length, b.length); index++) {
    const [x, y] = [a[index] ?? -1, b[index] ?? -1];
    if (x !== y) return x - y;
  }
  return 0;
}

export function lowest(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : values.reduce((best, one) => Math.min(best, one));
}
