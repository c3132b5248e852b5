/**
 * How many multicast entries each switch must hold: for every VLAN, the groups that were joined through it, and those
 * that merely pass on their way to a querier or router, for which many switches make an entry too.
 */
import type { Address } from '../../values/address.js';
import type { Leg, Plan, SnoopingKey, Switch } from '../../plan/types.js';
import { ethernetAddress } from '../groups/index.js';
import { bring, choosersOf, choosingFlows, createUnchosen, isChoice } from './choice-ways.js';
import type { Flow, Network, Reached } from './flows.js';
import type { ForwardingSegment } from './ground.js';
import { spreadOf } from './spread.js';
import { groupBy } from '../../collections/group-by.js';
import { newPlace, type Place, worstChoice } from './worst-choice.js';

export interface TableUse {
  readonly switch: Switch;
  readonly size: number;
  /** Undefined: not stated, counted by group. */
  readonly key: SnoopingKey | undefined;
  /** Entries for what receivers joined through the switch; where inputs switch, in the worst case. */
  readonly joined: number;
  /** The same and those for streams that only pass. */
  readonly all: number;
  /** What of it inputs choose; undefined where they choose nothing. */
  readonly chosen: ChosenEntries | undefined;
}

/** Entries that inputs choose, in the worst case for the switch. */
export interface ChosenEntries {
  readonly joined: number;
  readonly all: number;
  /** Both where inputs that do not say so leave the last stream before they join the next. */
  readonly leftFirst: { readonly joined: number; readonly all: number };
  /** Streams of such a choice, one an entry; empty where only a bound is known. */
  readonly legs: readonly Leg[];
  /** False: no choice needs more, and perhaps none so many. */
  readonly exact: boolean;
}

/** Every switch that states the size of its table, in plan order. */
export function tableUses(plan: Plan, network: Network): readonly TableUse[] {
  const limited = plan.switches.filter((one) => one.groupTableSize !== undefined);
  if (limited.length === 0) return [];
  const counts = new Map<Switch, Counted>(limited.map((one) => [one, { joined: 0, all: 0, choices: undefined }]));
  const flows = byForwarding(network.unchosen ?? network.flows);
  const choosing = network.unchosen === undefined ? undefined : byForwarding(choosingFlows(network));
  const before = createUnchosen(network.unchosen ?? []);
  for (const forwarding of new Set([...flows.keys(), ...(choosing?.keys() ?? [])])) {
    if (!forwarding.segment.nodes.some((one) => counts.has(one))) continue;
    const tables = count(forwarding, flows.get(forwarding) ?? [], counts);
    for (const flow of choosing?.get(forwarding) ?? []) addChoices(flow, before(flow), tables, counts);
  }
  return limited.flatMap((one) => {
    const { joined, all, choices } = counts.get(one) ?? { joined: 0, all: 0, choices: undefined };
    const chosen = choices === undefined ? undefined : chosenEntries(choices);
    return one.groupTableSize === undefined
      ? []
      : [
          {
            switch: one,
            size: one.groupTableSize,
            key: one.snoopingKey,
            joined: joined + (chosen?.joined ?? 0),
            all: all + (chosen?.all ?? 0),
            chosen,
          },
        ];
  });
}

interface Counted {
  joined: number;
  all: number;
  choices: Choices | undefined;
}

/** Entries of one switch that somebody has to choose. */
interface Choices {
  readonly joined: Place<Entry>;
  readonly all: Place<Entry>;
}

interface Entry {
  readonly leg: Leg;
}

function byForwarding(flows: readonly Flow[]): ReadonlyMap<ForwardingSegment, readonly Flow[]> {
  return groupBy(flows, ({ flood, forwarding }) => (flood === undefined ? forwarding : undefined));
}

function chosenEntries({ joined, all }: Choices): ChosenEntries | undefined {
  const one = worstChoice(joined, () => 1);
  const both = worstChoice(all, () => 1);
  if (one === undefined && both === undefined) return undefined;
  return {
    joined: one?.total ?? 0,
    all: both?.total ?? 0,
    leftFirst: { joined: one?.leftFirst ?? 0, all: both?.leftFirst ?? 0 },
    legs: (one ?? both)?.items.map(({ leg }) => leg) ?? [],
    exact: both?.exact !== false && one?.exact !== false,
  };
}

/** What each switch that counts has entries for. */
interface Tables {
  readonly of: readonly (Table | undefined)[];
  readonly sourceKeys: Map<Address, Map<Address | undefined, string>>;
}

interface Table {
  readonly key: SnoopingKey | undefined;
  readonly joined: Set<Key>;
  readonly all: Set<Key>;
  /** Entries that have to be chosen, one object a key. */
  readonly chosen: Map<Key, Entry>;
}

function count(forwarding: ForwardingSegment, flows: readonly Flow[], counts: ReadonlyMap<Switch, Counted>): Tables {
  const { nodes } = forwarding.segment;
  const tables: Tables = {
    of: nodes.map((one) =>
      counts.has(one) ? { key: one.snoopingKey, joined: new Set(), all: new Set(), chosen: new Map() } : undefined,
    ),
    sourceKeys: new Map(),
  };
  for (const flow of flows) {
    visitEntries(flow, (node, joined) => {
      const table = tables.of[node];
      const key = table === undefined ? undefined : keyOf(flow.leg, table, tables);
      if (table === undefined || key === undefined) return;
      table.all.add(key);
      if (joined) table.joined.add(key);
    });
  }
  for (const [node, one] of nodes.entries()) {
    const sums = counts.get(one);
    const table = tables.of[node];
    if (sums === undefined || table === undefined) continue;
    sums.joined += table.joined.size;
    sums.all += table.all.size;
  }
  return tables;
}

/** Entries a flow needs only where somebody chooses it. */
function addChoices(flow: Flow, base: Flow | undefined, tables: Tables, counts: ReadonlyMap<Switch, Counted>): void {
  const { segment, cuts } = flow.forwarding;
  const { nodes } = segment;
  // Who is cut off makes no switch here leave off flooding.
  const everybody = choosersOf(flow).flatMap(({ node, choices }) => (cuts.joined(node, flow.from) ? choices : []));
  const isThere = base !== undefined && base.flood === undefined;
  visitEntries(flow, (node, joined, by) => {
    const table = tables.of[node];
    const key = table === undefined ? undefined : keyOf(flow.leg, table, tables);
    const one = nodes[node];
    const sums = one === undefined ? undefined : counts.get(one);
    if (table === undefined || key === undefined || sums === undefined) return;
    const byHand = flow.plane.byHand !== undefined;
    if (by === undefined && isThere && !byHand) return;
    if (by !== undefined && !isChoice(by.leg)) return;
    const choices = by === undefined ? everybody : [by.leg.receiver];
    const places = (sums.choices ??= { joined: newPlace(), all: newPlace() });
    let entry = table.chosen.get(key);
    if (entry === undefined) table.chosen.set(key, (entry = { leg: flow.leg }));
    if (!table.all.has(key)) bring(places.all, entry, choices, byHand);
    if (joined && !table.joined.has(key)) bring(places.joined, entry, choices, byHand);
  });
}

/** Sees an entry of a switch; `by` is who asked for it, undefined where it comes without. */
type EntryVisitor = (node: number, joined: boolean, by?: Reached) => void;

function visitEntries(flow: Flow, enter: EntryVisitor): void {
  const { from, receivers, plane, forwarding } = flow;
  const { segment, tree } = forwarding;
  const { sinks } = plane;
  if (plane.byHand !== undefined) {
    const { nodes, steps, ports } = spreadOf(flow, plane.byHand);
    const asked = new Set<number>();
    for (const { step, reason } of steps.values()) if (reason.kind !== 'flooded') asked.add(step.from);
    for (const [{ port }, { kind }] of ports) {
      const node = port === undefined || kind === 'flooded' ? undefined : segment.nodeOf.get(port.switch);
      if (node !== undefined) asked.add(node);
    }
    for (const node of nodes) enter(node, asked.has(node));
    return;
  }
  const along = (start: number, end: number, joined: boolean, by?: Reached): void => {
    const steps = tree.path(start, end);
    if (steps === undefined) return;
    enter(start, joined, by);
    for (const step of steps) enter(step.to, joined, by);
  };
  for (const reached of receivers) {
    const { node } = reached;
    // Where nobody knows who queries, all switches on the way to the sender are taken to make one.
    if (plane.asking[node] === 'heard') enter(node, true, reached);
    else along(from, node, true, reached);
    // The report travels to the querier, and every switch it passes makes an entry.
    for (const sink of sinks) along(node, sink.node, true, reached);
  }
  for (const sink of sinks) along(from, sink.node, false);
}

function keyOf({ group, source }: Leg, { key }: Table, { sourceKeys }: Tables): Key | undefined {
  if (group === undefined) return undefined;
  if (key === 'mac') return ethernetAddress(group);
  return key === 'source-group' ? sourceKey(sourceKeys, group, source) : group;
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
