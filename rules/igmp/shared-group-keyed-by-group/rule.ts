import {
  byLabel,
  clause,
  defineRule,
  filtersSources,
  formatAddress,
  formatRate,
  groupBy,
  legLabel,
  listNames,
  mark,
  receiverLegLabel,
  severalToldApart,
  UnionFind,
  type Flow,
  type ForwardingSegment,
  type GroupUse,
  type Model,
  type ReceiverLeg,
  type Switch,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/shared-group-keyed-by-group',
  summary: 'Senders that share a group are told apart by source, but the switches forward by group',
  severity: 'warning',
  sources: [clause('RFC 4607', '6'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'sources', 'receivers', 'switchPorts', 'snoopingKeys'],
  *check({ model }) {
    const clusters = new Map<ForwardingSegment, UnionFind<number>>();
    for (const use of model.groups.shared) {
      if (!severalToldApart(use) || leftToNotFiltered(use, model)) continue;
      const flows = use.legs
        .flatMap((leg) => model.network.flowsOf(leg))
        .filter(({ forwarding }) => forwarding.conduct.snooping !== false);
      for (const [forwarding, own] of groupBy(flows, (flow) => flow.forwarding)) {
        if (forwarding.conduct.keyedBySource || new Set(own.map(({ leg }) => leg.sender)).size < 2) continue;
        const cluster = clusters.get(forwarding) ?? clusterOf(forwarding);
        clusters.set(forwarding, cluster);
        const extra = byLabel([...unwanted(own, cluster)], ([leg]) => receiverLegLabel(leg));
        const [[worstLeg, worst] = []] = [...extra].sort(([, a], [, b]) => bps(b, model) - bps(a, model));
        if (worstLeg === undefined || worst === undefined) continue;
        const group = formatAddress(use.group);
        const legs = byLabel([...new Set(own.map(({ leg }) => leg))], legLabel);
        const switches = byLabel(
          forwarding.segment.nodes.filter((one) => one.snoopingKey !== 'source-group'),
          ({ name }) => name,
        );
        const [first, ...rest] = switches;
        if (first === undefined) continue;
        const receivers = extra.map(([leg]) => receiverLegLabel(leg));
        const load = bps(
          [
            ...worst,
            ...own
              .filter(({ receivers: own }) => own.some(({ leg }) => leg === worstLeg))
              .filter((flow) => !worst.includes(flow)),
          ],
          model,
        );
        yield {
          subject: `${group} in ${forwarding.segment.domain.key}`,
          parties: [...legs.map(legLabel), ...receivers, ...switches.map(({ name }) => name)],
          what: `${listNames(legs.map(legLabel), 4)} share group ${group} in ${forwarding.segment.domain.title} and differ by source, but ${listNames(switches.map(keyWords), 3)}`,
          at: mark(
            first,
            `${first.name}: ${first.snoopingKey === undefined ? 'does not say what its table is keyed by' : `table keyed by ${words(first)}`}`,
            'snoopingKey',
          ),
          others: [
            ...rest.map((one) => mark(one, one.name, 'snoopingKey')),
            ...legs.map((leg) => mark(leg, legLabel(leg), 'group')),
          ],
          onAir: `${listNames(receivers, 4)} ${receivers.length === 1 ? 'gets' : 'get'} all of them on the wire and ${receivers.length === 1 ? 'drops' : 'drop'} what ${receivers.length === 1 ? 'it' : 'they'} did not ask for${load === 0 ? '' : `: ${formatRate(load)} at the port of ${receiverLegLabel(worstLeg)}`}; a port too small for the sum loses packets of the wanted one`,
          fix: `give each stream a group of its own, or use switches that forward by source and group (\`snoopingKey: source-group\`)`,
          touch: { kind: 'stream', name: group },
        };
      }
    }
  },
});

/** A receiver or VLAN that cannot ask for one source is the graver cause. */
function leftToNotFiltered(use: GroupUse, model: Model): boolean {
  const joiners = model.reception.joiners(use);
  return (
    joiners.some(({ join }) => join === 'any') ||
    [...use.legs, ...joiners].some(({ vlan }) => vlan !== undefined && filtersSources(vlan, use.group) === false)
  );
}

/** Switches that hand a group on to each other whatever its source. */
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

/** Receivers with the flows of the group they get without having asked for that sender. */
function unwanted(flows: readonly Flow[], cluster: UnionFind<number>): ReadonlyMap<ReceiverLeg, readonly Flow[]> {
  const byCluster = groupBy(flows, ({ from }) => cluster.find(from));
  const found = new Map<ReceiverLeg, readonly Flow[]>();
  for (const { receivers } of flows) {
    for (const { leg, node } of receivers) {
      if (found.has(leg)) continue;
      const extra = (byCluster.get(cluster.find(node)) ?? []).filter(
        (flow) => flow.leg.sender !== wantedSender(leg, flows),
      );
      if (extra.length > 0) found.set(leg, extra);
    }
  }
  return found;
}

function wantedSender(leg: ReceiverLeg, flows: readonly Flow[]): unknown {
  return leg.takes?.sender ?? flows.find((flow) => flow.leg.source === leg.source)?.leg.sender;
}

function bps(flows: readonly Flow[], model: Model): number {
  return flows.reduce((sum, { leg }) => sum + (model.rates.onWire(leg)?.onPort ?? 0), 0);
}

function words({ snoopingKey }: Switch): string {
  return snoopingKey === 'mac' ? 'Ethernet address' : 'group';
}

function keyWords(one: Switch): string {
  return one.snoopingKey === undefined
    ? `${one.name}, which does not say, is taken to forward by group`
    : `${one.name} forwards by ${words(one)}`;
}
