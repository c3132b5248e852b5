/** Who queries where once something is lost, and from when: the election of RFC 3376 §6.6.2 in every part that is left. */
import { kept } from '../../collections/kept.js';
import type { Device, Switch, Vlan } from '../../plan/types.js';
import type { Span } from '../../values/span.js';
import type { KnownQuerier, Protocol } from './conduct.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { electedQuerier, type Plane, type Sink } from './plane.js';
import type { Remains, Removal } from './remains.js';
import { nextQuerierAmong, queriedAmong, responseAmong } from './timers.js';

export interface QuerierChange {
  readonly forwarding: ForwardingSegment;
  readonly protocol: 'igmp' | 'mld';
  readonly vlans: readonly Vlan[];
  /** Switches of the segment that hear somebody else from then on, or nobody. */
  readonly switches: readonly Switch[];
  /** Boxes that queried before, the elected querier or routers; empty: nobody did. */
  readonly from: readonly (Switch | Device)[];
  /** Boxes that query then; empty: nobody does. */
  readonly to: readonly (Switch | Device)[];
  /** Seconds after the loss until they do; undefined where nobody does. */
  readonly takesOver: Span | undefined;
  /** Seconds for which members may be forgotten in between: those that answered the last query at once, and the next one late. */
  readonly gapS: number;
}

export interface QuerierChanges {
  readonly changes: readonly QuerierChange[];
  /** VLANs that the loss touches and of which the plan does not say where their queriers stand. */
  readonly unplaced: readonly Vlan[];
}

export function querierChanges({ forwardings }: Network, removal: Removal, remains: Remains): QuerierChanges {
  const changes: QuerierChange[] = [];
  const unplaced = new Set<Vlan>();
  for (const forwarding of forwardings) {
    const component = remains.componentOf(forwarding);
    for (const protocol of ['igmp', 'mld'] as const) {
      const plane = forwarding[protocol];
      const isGone = ({ on, port }: Sink): boolean =>
        removal.boxes.has(on) || (port !== undefined && removal.interfaces?.has(port) === true);
      if (plane.conduct.snooping !== true) continue;
      if (component === undefined && !plane.sources.some(isGone)) continue;
      const { vlans } = forwarding.segment.domain;
      if (plane.unplaced) {
        for (const vlan of vlans) if (vlan[protocol] !== undefined) unplaced.add(vlan);
        continue;
      }
      const left = component ?? forwarding.tree.component;
      changes.push(...changesIn(forwarding, protocol, left, isGone));
    }
  }
  return { changes, unplaced: [...unplaced] };
}

function changesIn(
  forwarding: ForwardingSegment,
  protocol: Protocol,
  component: Int32Array,
  isGone: (source: Sink) => boolean,
): readonly QuerierChange[] {
  const { segment } = forwarding;
  const plane = forwarding[protocol];
  const settings = segment.domain.vlans.flatMap((vlan) => vlan[protocol] ?? []);
  const before = askersBy(
    plane,
    (node) => forwarding.cuts.partOf(node),
    () => false,
  );
  const after = askersBy(plane, (node) => component[node] ?? -1, isGone);
  const found = new Map<string, { readonly switches: Switch[]; readonly from: Boxes; readonly to: Boxes }>();
  for (const [node, one] of segment.nodes.entries()) {
    if (component[node] === -1) continue;
    const [from, to] = [before(node), after(node)];
    if (from.length === to.length && from.every((box) => to.includes(box))) continue;
    const key = [String(forwarding.cuts.partOf(node)), String(component[node])].join(' ');
    kept(found, key, () => ({ switches: [], from, to })).switches.push(one);
  }
  return [...found.values()].map(({ switches, from, to }) => {
    // Who queried elsewhere already goes on, and is heard with its next query.
    const queriesAlready = to.some((box) => plane.sinks.some(({ on }) => on === box));
    const mayBeHeard = from.length === 0 || from.some((box) => to.includes(box)) || queriesAlready;
    const next = nextQuerierAmong(settings);
    const takesOver = mayBeHeard ? { fromS: 0, toS: queriesAlready ? queriedAmong(settings).toS : next.toS } : next;
    return {
      forwarding,
      protocol,
      vlans: segment.domain.vlans,
      switches,
      from,
      to,
      takesOver: to.length === 0 ? undefined : takesOver,
      gapS: from.length === 0 ? 0 : responseAmong(settings) / 2,
    };
  });
}

type Boxes = readonly (Switch | Device)[];

/** Who queries a switch: the elected querier of its part, or its routers where none is planned. */
function askersBy(
  plane: Plane,
  partOf: (node: number) => number,
  isGone: (source: Sink) => boolean,
): (node: number) => Boxes {
  const known = new Map<number, Boxes>();
  const inPart = (part: number): Boxes => {
    const here = plane.sources.filter((source) => partOf(source.node) === part && !isGone(source));
    const planned = here.flatMap(({ on, why }): readonly KnownQuerier[] =>
      why === 'querier' ? plane.conduct.queriers.filter((one) => one.on === on) : [],
    );
    const elected = electedQuerier(planned)?.on;
    if (elected !== undefined) return [elected];
    return plane.conduct.routed ? [...new Set(here.filter(({ why }) => why === 'router').map(({ on }) => on))] : [];
  };
  return (node) => kept(known, partOf(node), () => inPart(partOf(node)));
}
