/** What a few links carry, taken apart: for whom, and by what reason. One pass over the flows for all of them. */
import type { Device, Leg, Switch } from '../../plan/types.js';
import type { FloodReason } from './conduct.js';
import { onwardRouters, type Flow, type Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { nodesBelow } from './tree.js';
import { isUnasked, marksFor, walkFlood, type Marks } from './forward.js';
import type { Span } from './link-use.js';
import type { FlowRate } from '../streams/index.js';
import type { RateOf } from './load.js';
import { spreadOf } from './spread.js';

/** The load of one direction of a link by its reasons, in bit/s. */
export interface Burden {
  /** For receivers that asked for it. */
  readonly joinedBps: number;
  /** Only because a querier or multicast router gets every stream (RFC 4541 §2.1.2 rule 1). */
  readonly towardsBps: number;
  readonly towards: ReadonlySet<Switch | Device>;
  /** Only because the segment floods. */
  readonly floodedBps: number;
  readonly floodedFor: ReadonlySet<FloodReason>;
  /** Only because people bound the groups to the port, or made it a router port. */
  readonly byHandBps: number;
  readonly byHandAt: ReadonlySet<Switch>;
  /** By sending device, or by stream where no device is known; the largest first. */
  readonly senders: readonly (readonly [name: string, rateBps: number])[];
  /** How many streams pass. */
  readonly streams: number;
}

/** The burdens of some links, each given by its directed edges. */
export function burdensOf<Key>(
  network: Network,
  rateOf: RateOf,
  watched: ReadonlyMap<Key, readonly Span[]>,
): ReadonlyMap<Key, Burden> {
  const drafts = new Map<Key, Draft>();
  const watch = new Map<ForwardingSegment, Watch>();
  for (const [key, spans] of watched) {
    const draft = newDraft();
    drafts.set(key, draft);
    for (const { forwarding, edge, from } of spans) {
      let own = watch.get(forwarding);
      if (own === undefined)
        watch.set(forwarding, (own = { drafts: new Map(), floods: new Map(), marks: marksFor(forwarding) }));
      own.drafts.set(sideKey(edge.id, from === edge.a), draft);
    }
  }
  if (watch.size === 0) return new Map();
  for (const flow of network.unchosen ?? network.flows) {
    const own = watch.get(flow.forwarding);
    const rate = own === undefined ? undefined : rateOf(flow);
    if (own === undefined || rate === undefined) continue;
    walk(flow, rate, own);
  }
  for (const [forwarding, own] of watch) spreadFloods(forwarding, own);
  return new Map([...drafts].map(([key, { senders, ...rest }]) => [key, { ...rest, senders: bySize(senders) }]));
}

interface Draft {
  joinedBps: number;
  towardsBps: number;
  readonly towards: Set<Switch | Device>;
  floodedBps: number;
  readonly floodedFor: Set<FloodReason>;
  byHandBps: number;
  readonly byHandAt: Set<Switch>;
  readonly senders: Map<string, number>;
  streams: number;
}

interface Watch {
  readonly drafts: Map<number, Draft>;
  /** What floods from each node. */
  readonly floods: Map<number, Flood>;
  readonly marks: Marks;
}

interface Flood {
  rateBps: number;
  streams: number;
  readonly senders: Map<string, number>;
  readonly reasons: Set<FloodReason>;
}

function newDraft(): Draft {
  return {
    joinedBps: 0,
    towardsBps: 0,
    towards: new Set(),
    floodedBps: 0,
    floodedFor: new Set(),
    byHandBps: 0,
    byHandAt: new Set(),
    senders: new Map(),
    streams: 0,
  };
}

function sideKey(edge: number, fromA: boolean): number {
  return edge * 2 + (fromA ? 0 : 1);
}

function walk(flow: Flow, { onLink }: FlowRate, watch: Watch): void {
  const { tree } = flow.forwarding;
  const { sinks, byHand } = flow.plane;
  if (byHand !== undefined) {
    for (const { step, reason } of spreadOf(flow, byHand).steps.values()) {
      const draft = watch.drafts.get(sideKey(step.edge.id, step.from === step.edge.a));
      if (draft === undefined) continue;
      draft.streams++;
      addTo(draft.senders, senderName(flow.leg), onLink);
      switch (reason.kind) {
        case 'joined':
        case 'addressed':
          draft.joinedBps += onLink;
          break;
        case 'flooded':
          draft.floodedBps += onLink;
          draft.floodedFor.add(reason.why);
          break;
        case 'bound':
        case 'router port': {
          const at = flow.forwarding.segment.nodes[step.from];
          if (reason.kind === 'router port' && reason.why !== 'set by hand') {
            draft.towardsBps += onLink;
            draft.towards.add(reason.towards);
          } else {
            draft.byHandBps += onLink;
            if (at !== undefined) draft.byHandAt.add(at);
          }
        }
      }
    }
    return;
  }
  const seen = new Set<Draft>();
  const pass = (to: number, count: (draft: Draft) => void): void => {
    for (const step of tree.path(flow.from, to) ?? []) {
      const draft = watch.drafts.get(sideKey(step.edge.id, step.from === step.edge.a));
      if (draft === undefined || seen.has(draft)) continue;
      seen.add(draft);
      count(draft);
      if (flow.flood !== undefined) continue;
      draft.streams++;
      addTo(draft.senders, senderName(flow.leg), onLink);
    }
  };
  if (flow.partly) {
    walkFlood(flow, watch.marks, {
      node: () => undefined,
      step: (step, why) => {
        const draft = watch.drafts.get(sideKey(step.edge.id, step.from === step.edge.a));
        if (draft === undefined) return;
        draft.floodedBps += onLink;
        draft.floodedFor.add(why);
        draft.streams++;
        addTo(draft.senders, senderName(flow.leg), onLink);
      },
    });
  }
  if (flow.flood === undefined && isUnasked(flow)) return;
  for (const { node } of flow.to === undefined ? flow.receivers : [flow.to]) {
    pass(node, (draft) => {
      draft.joinedBps += onLink;
      // The flood from this node is counted whole below.
      if (flow.flood !== undefined) draft.floodedBps -= onLink;
    });
  }
  if (flow.flood !== undefined) {
    let flood = watch.floods.get(flow.from);
    if (flood === undefined)
      watch.floods.set(flow.from, (flood = { rateBps: 0, streams: 0, senders: new Map(), reasons: new Set() }));
    flood.rateBps += onLink;
    flood.streams++;
    flood.reasons.add(flow.flood);
    addTo(flood.senders, senderName(flow.leg), onLink);
    return;
  }
  for (const { router } of onwardRouters(flow))
    pass(router.node, (draft) => {
      draft.joinedBps += onLink;
    });
  for (const sink of sinks) {
    pass(sink.node, (draft) => {
      draft.towardsBps += onLink;
      draft.towards.add(sink.on);
    });
  }
}

/** Over a watched edge of the tree goes what floods from the side it leaves. */
function spreadFloods(forwarding: ForwardingSegment, { drafts, floods }: Watch): void {
  if (floods.size === 0) return;
  const { tree, segment } = forwarding;
  for (const edge of segment.edges) {
    for (const fromA of [true, false]) {
      const draft = drafts.get(sideKey(edge.id, fromA));
      const child = tree.parentEdge[edge.a] === edge ? edge.a : tree.parentEdge[edge.b] === edge ? edge.b : undefined;
      if (draft === undefined || child === undefined) continue;
      const below = nodesBelow(forwarding.tree, child);
      const leavesBelow = (fromA ? edge.a : edge.b) === child;
      for (const [node, flood] of floods) {
        if (tree.component[node] !== tree.component[child] || (below[node] === 1) !== leavesBelow) continue;
        draft.floodedBps += flood.rateBps;
        draft.streams += flood.streams;
        for (const reason of flood.reasons) draft.floodedFor.add(reason);
        for (const [name, rate] of flood.senders) addTo(draft.senders, name, rate);
      }
    }
  }
}

/** The largest first. */
export function bySize(senders: ReadonlyMap<string, number>): Burden['senders'] {
  return [...senders].sort(([a, x], [b, y]) => y - x || (a < b ? -1 : a > b ? 1 : 0));
}

export function senderName({ sender }: Leg): string {
  return sender.device?.name ?? sender.label;
}

function addTo(map: Map<string, number>, key: string, value: number): void {
  map.set(key, (map.get(key) ?? 0) + value);
}
