/**
 * Senders that share a group and are told apart by source (RFC 4607 §6), over switches that forward the group whatever
 * its source.
 */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { UnionFind } from '../../collections/union-find.js';
import type { ReceiverLeg, Sender } from '../../plan/types.js';
import { filtersSources, type GroupIndex, type GroupUse, severalToldApart } from '../groups/index.js';
import type { Reception } from '../streams/index.js';
import type { Flow, Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';

export interface BlindSharing {
  readonly use: GroupUse;
  readonly forwarding: ForwardingSegment;
  /** Flows of the group in the segment. */
  readonly flows: readonly Flow[];
  /** Receivers with the flows they get without having asked for that sender. */
  readonly unwanted: ReadonlyMap<ReceiverLeg, readonly Flow[]>;
}

export function blindSharings(groups: GroupIndex, network: Network, reception: Reception): readonly BlindSharing[] {
  const clusters = new Map<ForwardingSegment, UnionFind<number>>();
  const uses = groups.shared.filter((use) => severalToldApart(use) && !leftToNotFiltered(use, reception));
  return uses.flatMap((use) => {
    const flows = use.legs
      .flatMap((leg) => network.flowsOf(leg))
      .filter(({ plane }) => plane.conduct.snooping !== false && !plane.conduct.keyedBySource);
    return [...groupBy(flows, ({ forwarding }) => forwarding)].flatMap(([forwarding, own]) => {
      if (new Set(own.map(({ leg }) => leg.sender)).size < 2) return [];
      const unwanted = unwantedFlows(
        own,
        kept(clusters, forwarding, () => clusterOf(forwarding)),
      );
      return [{ use, forwarding, flows: own, unwanted }];
    });
  });
}

/** All of the group that arrives at a receiver, asked for or not. */
export function arrivingAt({ flows, unwanted }: BlindSharing, receiver: ReceiverLeg): readonly Flow[] {
  const extra = unwanted.get(receiver) ?? [];
  const taken = flows.filter(({ receivers }) => receivers.some(({ leg }) => leg === receiver));
  return [...new Set([...extra, ...taken])];
}

/** A receiver or VLAN that cannot ask for one source is the graver cause: `sources/not-filtered`. */
function leftToNotFiltered(use: GroupUse, reception: Reception): boolean {
  const joiners = reception.joiners(use);
  return (
    joiners.some(({ join }) => join === 'any') ||
    [...use.legs, ...joiners].some(({ vlan }) => vlan !== undefined && filtersSources(vlan, use.group) === false)
  );
}

/** Switches, by number, that hand a group on to each other whatever its source. */
function clusterOf({ segment, tree }: ForwardingSegment): UnionFind<number> {
  const cluster = new UnionFind<number>();
  const blind = (node: number): boolean => segment.nodes[node]?.snoopingKey !== 'source-group';
  for (const node of tree.order) {
    cluster.add(node);
    const parent = tree.parent[node] ?? -1;
    if (parent !== -1 && blind(node) && blind(parent)) cluster.union(node, parent);
  }
  return cluster;
}

function unwantedFlows(flows: readonly Flow[], cluster: UnionFind<number>): ReadonlyMap<ReceiverLeg, readonly Flow[]> {
  const byCluster = groupBy(flows, ({ from }) => cluster.find(from));
  const found = new Map<ReceiverLeg, readonly Flow[]>();
  for (const { receivers } of flows) {
    for (const { leg, node } of receivers) {
      if (found.has(leg)) continue;
      const wanted = wantedSender(leg, flows);
      const extra = (byCluster.get(cluster.find(node)) ?? []).filter((flow) => flow.leg.sender !== wanted);
      if (extra.length > 0) found.set(leg, extra);
    }
  }
  return found;
}

function wantedSender(leg: ReceiverLeg, flows: readonly Flow[]): Sender | undefined {
  return leg.takes?.sender ?? flows.find((flow) => flow.leg.source === leg.source)?.leg.sender;
}
