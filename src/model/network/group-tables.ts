/**
 * How many multicast entries each switch must hold: for every VLAN, the groups that were joined through it, and those
 * that merely pass on their way to a querier or router, for which many switches make an entry too.
 */
import type { Address } from '../../values/address.js';
import type { Plan, SnoopingKey, Switch } from '../../plan/types.js';
import { ethernetAddress } from '../groups/index.js';
import type { Network } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { spreadOf } from './spread.js';
import { append } from '../../collections/group-by.js';

export interface TableUse {
  readonly switch: Switch;
  readonly size: number;
  /** Undefined: not stated, counted by group. */
  readonly key: SnoopingKey | undefined;
  /** Entries for what receivers joined through the switch. */
  readonly joined: number;
  /** The same and those for streams that only pass. */
  readonly all: number;
}

/** Every switch that states the size of its table, in plan order. */
export function tableUses(plan: Plan, network: Network): readonly TableUse[] {
  const limited = plan.switches.filter((one) => one.groupTableSize !== undefined);
  if (limited.length === 0) return [];
  const counts = new Map<Switch, { joined: number; all: number }>(limited.map((one) => [one, { joined: 0, all: 0 }]));
  const flows = new Map<ForwardingSegment, Network['flows'][number][]>();
  for (const flow of network.flows) {
    if (flow.flood !== undefined) continue;
    append(flows, flow.forwarding, flow);
  }
  for (const [forwarding, own] of flows) {
    if (forwarding.segment.nodes.some((one) => counts.has(one))) count(forwarding, own, counts);
  }
  return limited.flatMap((one) => {
    const { joined, all } = counts.get(one) ?? { joined: 0, all: 0 };
    return one.groupTableSize === undefined
      ? []
      : [{ switch: one, size: one.groupTableSize, key: one.snoopingKey, joined, all }];
  });
}

function count(
  forwarding: ForwardingSegment,
  flows: Network['flows'],
  counts: ReadonlyMap<Switch, { joined: number; all: number }>,
): void {
  const { segment, tree } = forwarding;
  const tables = segment.nodes.map((one) =>
    counts.has(one) ? { key: one.snoopingKey, joined: new Set<Key>(), all: new Set<Key>() } : undefined,
  );
  const sourceKeys = new Map<Address, Map<Address | undefined, string>>();
  for (const flow of flows) {
    const { leg, from, receivers, plane } = flow;
    const { sinks } = plane;
    const { group, source } = leg;
    if (group === undefined) continue;
    const enter = (node: number, joined: boolean): void => {
      const table = tables[node];
      if (table === undefined) return;
      const key =
        table.key === 'mac'
          ? ethernetAddress(group)
          : table.key === 'source-group'
            ? sourceKey(sourceKeys, group, source)
            : group;
      table.all.add(key);
      if (joined) table.joined.add(key);
    };
    if (plane.byHand !== undefined) {
      const { nodes, steps, ports } = spreadOf(flow, plane.byHand);
      const asked = new Set<number>();
      for (const { step, reason } of steps.values()) if (reason.kind !== 'flooded') asked.add(step.from);
      for (const [{ port }, { kind }] of ports) {
        const node = port === undefined || kind === 'flooded' ? undefined : segment.nodeOf.get(port.switch);
        if (node !== undefined) asked.add(node);
      }
      for (const node of nodes) enter(node, asked.has(node));
      continue;
    }
    const along = (start: number, end: number, joined: boolean): void => {
      const steps = tree.path(start, end);
      if (steps === undefined) return;
      enter(start, joined);
      for (const step of steps) enter(step.to, joined);
    };
    for (const { node } of receivers) {
      // Where nobody knows who queries, all switches on the way to the sender are taken to make one.
      if (plane.asking[node] === 'heard') enter(node, true);
      else along(from, node, true);
      // The report travels to the querier, and every switch it passes makes an entry.
      for (const sink of sinks) along(node, sink.node, true);
    }
    for (const sink of sinks) along(from, sink.node, false);
  }
  for (const [node, one] of segment.nodes.entries()) {
    const sums = counts.get(one);
    const table = tables[node];
    if (sums === undefined || table === undefined) continue;
    sums.joined += table.joined.size;
    sums.all += table.all.size;
  }
}

type Key = Address | string;

/** One object a pair of source and group, made once. */
function sourceKey(
  known: Map<Address, Map<Address | undefined, string>>,
  group: Address,
  source: Address | undefined,
): string {
  let bySource = known.get(group);
  if (bySource === undefined) known.set(group, (bySource = new Map<Address | undefined, string>()));
  let key = bySource.get(source);
  if (key === undefined) bySource.set(source, (key = `${String(group)} ${String(source)}`));
  return key;
}
