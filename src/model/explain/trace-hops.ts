/** The way through one segment as a list: switches, the links between them and the host ports it leaves by. */
import type { Interface, Link, Switch } from '../../plan/types.js';
import type { Why } from './carry-why.js';
import {
  type Carried,
  type CarryReason,
  carriersOf,
  type Edge,
  type Flow,
  type ForwardingSegment,
  linkRate,
  type Load,
  type PortLoad,
  rateOfLinks,
  type Sink,
  type Step,
  type Unrated,
} from '../network/index.js';
import { append } from '../../collections/group-by.js';

export type Hop = SwitchHop | LinkHop | PortHop;

export interface SwitchHop {
  readonly kind: 'switch';
  /** Links crossed so far. */
  readonly depth: number;
  readonly switch: Switch;
  /** What the switch itself does for the segment. */
  readonly serves: readonly Sink['why'][];
}

/** Everything up to the next hop of no greater depth lies behind it. */
export interface LinkHop {
  readonly kind: 'link';
  readonly depth: number;
  /** Links that carry it: all members of an aggregate, else the first of those side by side. */
  readonly links: readonly Link[];
  /** Links beside it that wait for its failure. */
  readonly waiting: readonly Link[];
  readonly to: Switch;
  readonly rateBps: number | undefined;
  /** Of an aggregate the slowest member, on which all may fall (IEEE 802.1AX: which one is the sender's choice). */
  readonly memberBps: number | undefined;
  /** What the links carry in this direction now, this stream included. */
  readonly loadBps: number;
  /** Streams of unknown rate pass too, in one direction or the other. */
  readonly atLeast: boolean;
  readonly whys: readonly Why[];
}

export interface PortHop {
  readonly kind: 'port';
  readonly depth: number;
  readonly interface: Interface;
  /** The lower of what the port and the host's interface can do; undefined when neither is stated. */
  readonly rateBps: number | undefined;
  /** What the port carries now, this stream included. */
  readonly load: PortLoad | undefined;
  /** It gets streams of unknown rate too. */
  readonly atLeast: boolean;
  readonly whys: readonly Why[];
}

/** What links and ports carry, and where that is a lower bound. */
export interface Carrying {
  readonly load: Load;
  readonly unrated: Unrated;
}

/** Depth first, ports of a switch before the links on from it. Without recursion: a chain may be long. */
export function hopsOf(
  flow: Flow,
  carried: Carried,
  carrying: Carrying,
  whysOf: (reason: CarryReason) => readonly Why[],
): readonly Hop[] {
  const { segment } = flow.forwarding;
  const { sinks } = flow.plane;
  const stepsAt = new Map<number, { readonly step: Step; readonly reason: CarryReason }[]>();
  for (const [step, reason] of carried.steps) append(stepsAt, step.from, { step, reason });
  const portsAt = new Map<number, { readonly interface: Interface; readonly reason: CarryReason }[]>();
  for (const [via, reason] of carried.ports) {
    const node = via.port === undefined ? undefined : segment.nodeOf.get(via.port.switch);
    if (node !== undefined) append(portsAt, node, { interface: via, reason });
  }

  const hops: Hop[] = [];
  const open: { readonly node: number; readonly depth: number; readonly via: LinkHop | undefined }[] = [
    { node: flow.from, depth: 0, via: undefined },
  ];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { node, depth, via } = at;
    const here = segment.nodes[node];
    if (here === undefined) continue;
    if (via !== undefined) hops.push(via);
    hops.push({
      kind: 'switch',
      depth,
      switch: here,
      serves: sinks.filter((sink) => sink.node === node && sink.port === undefined).map((sink) => sink.why),
    });
    for (const port of portsAt.get(node) ?? []) {
      hops.push({
        kind: 'port',
        depth,
        interface: port.interface,
        rateBps: rateAt(port.interface),
        ...atPort(port.interface, carrying),
        whys: whysOf(port.reason),
      });
    }
    for (const { step, reason } of (stepsAt.get(node) ?? []).reverse()) {
      const to = segment.nodes[step.to];
      if (to !== undefined)
        open.push({
          node: step.to,
          depth: depth + 1,
          via: {
            kind: 'link',
            depth: depth + 1,
            to,
            ...onEdge(flow.forwarding, step.edge, here, carrying),
            whys: whysOf(reason),
          },
        });
    }
  }
  return hops;
}

/** The lower of what an interface and the switch port it is patched to can do. */
export function rateAt(via: Interface): number | undefined {
  const rates = [via.rateBps, via.port?.rateBps].filter((rate) => rate !== undefined);
  return rates.length === 0 ? undefined : Math.min(...rates);
}

function atPort({ port }: Interface, { load, unrated }: Carrying): Pick<PortHop, 'load' | 'atLeast'> {
  return port === undefined
    ? { load: undefined, atLeast: false }
    : { load: load.ports.get(port), atLeast: unrated.toHost(port) };
}

/** As `load` spreads a stream over the members of an edge. */
function onEdge(
  forwarding: ForwardingSegment,
  edge: Edge,
  from: Switch,
  { load, unrated }: Carrying,
): Pick<LinkHop, 'links' | 'waiting' | 'rateBps' | 'memberBps' | 'loadBps' | 'atLeast'> {
  const links = carriersOf(forwarding, edge);
  let loadBps = 0;
  for (const link of links) {
    const both = load.links.get(link);
    loadBps += (link.ends[0].switch === from ? both?.there : both?.back) ?? 0;
  }
  const rates = links.map(linkRate).filter((rate) => rate !== undefined);
  return {
    links,
    waiting: edge.links.filter((one) => !links.includes(one)),
    rateBps: rateOfLinks(links),
    memberBps: links.length > 1 && rates.length === links.length ? Math.min(...rates) : undefined,
    loadBps,
    atLeast: links.some(unrated.onLink),
  };
}
