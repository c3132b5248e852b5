/** Switches whose tables of bound groups keep a stream from a receiver on the way the tree gives it. */
import type { Interface, Leg, Link, Port, ReceiverLeg, Switch } from '../../plan/types.js';
import { isIPv4 } from '../../values/address.js';
import { goesOver } from './by-hand.js';
import type { Flow, Network } from './flows.js';
import { planeOf } from './ground.js';
import type { Plane } from './plane.js';
import type { Domain } from '../vlans/index.js';
import type { Edge, Segment } from './segment.js';
import type { Tree } from './tree.js';

/** One switch of the way that does not send the group on. */
export interface Unbound {
  readonly switch: Switch;
  readonly domain: Domain;
  /** Any of which would do: the port of the host, or those of the links to the next switch. */
  readonly ports: readonly Port[];
  /** Whether the plan states that it drops what it does not bind; else it is taken to. */
  readonly isStated: boolean;
}

/** Whether any table of bound groups is in use: a look before every receiver is asked. */
export function anyBound({ forwardings }: Network): boolean {
  return forwardings.some(({ igmp }) => igmp.conduct.nodes.some(({ forwarding }) => forwarding === 'static'));
}

/** Every such switch, the first one on the way first; none where nothing leads there anyway. */
export function unboundOn(leg: Leg, taker: ReceiverLeg, network: Network): readonly Unbound[] {
  const end = network.forwardingOf(taker);
  const [home] = network.flowsOf(leg);
  if (end === undefined || home === undefined) return [];
  const at = taker.interface?.port === undefined ? undefined : end.segment.nodeOf.get(taker.interface.port.switch);
  if (at === undefined) return [];
  const last = { node: at, port: taker.interface };
  if (end === home.forwarding) return unboundIn(home, last);
  const way = network.routing.way(
    { forwarding: home.forwarding, node: home.from },
    { forwarding: end, node: at },
    leg.group === undefined || isIPv4(leg.group),
  );
  if (way.kind !== 'way') return [];
  return way.stages.flatMap(({ forwarding, from, to, router }, index) => {
    const plane = planeOf(forwarding, leg.group);
    const portOf = (box: object | undefined): Interface | undefined => plane.routers.find(({ on }) => on === box)?.port;
    const entry = index === 0 ? home.entry : portOf(way.stages[index - 1]?.router);
    return unboundIn(
      { leg, plane, from, entry, forwarding },
      { node: to, port: router === undefined ? taker.interface : portOf(router) },
    );
  });
}

/** Where a stream starts in a segment and by which tree it goes. */
export type Start = Pick<Flow, 'leg' | 'from' | 'entry'> & {
  readonly plane: Plane;
  readonly forwarding: { readonly segment: Segment; readonly tree: Tree };
};

/** `isLost`: links that have failed, where the tree goes over others beside them. */
export function unboundIn(
  { forwarding: { segment, tree }, plane, from, entry, leg: { group } }: Start,
  to: { readonly node: number; readonly port: Interface | undefined },
  isLost: (link: Link) => boolean = () => false,
): readonly Unbound[] {
  const { byHand } = plane;
  const steps = tree.path(from, to.node);
  if (byHand === undefined || group === undefined || steps === undefined) return [];
  const found: Unbound[] = [];
  const ask = (node: number, edge: Edge | undefined): void => {
    const on = segment.nodes[node];
    const own = plane.conduct.nodes[node];
    if (on === undefined || own?.forwarding !== 'static') return;
    const isStated = own.unregistered === 'drop';
    const bound = byHand.bound(node, group);
    // Unbound groups may be flooded, and some always are.
    const why = plane.floodAt(node, group, false);
    if (why === 'flooded address' || (why !== undefined && bound === undefined)) return;
    if (edge !== undefined) {
      if (bound === undefined || !goesOver(bound, edge, isLost))
        found.push({ switch: on, domain: segment.domain, ports: portsOver(edge, on), isStated });
    } else if (to.port?.port !== undefined && to.port !== entry && bound?.hosts.has(to.port) !== true) {
      found.push({ switch: on, domain: segment.domain, ports: [to.port.port], isStated });
    }
  };
  for (const { edge, from: node } of steps) ask(node, edge);
  ask(to.node, undefined);
  return found;
}

function portsOver({ links }: Edge, on: Switch): readonly Port[] {
  return links.flatMap(({ ends }) =>
    ends.flatMap((end) => (end.switch === on && end.port !== undefined ? [end.port] : [])),
  );
}
