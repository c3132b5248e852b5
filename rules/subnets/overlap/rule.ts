import {
  byLabel,
  clause,
  commonPractice,
  comparePrefixes,
  createFreeBlocks,
  defineRule,
  formatPrefix,
  inPrefix,
  inRig,
  listNames,
  mark,
  rangeOf,
  UnionFind,
  vlanSubject,
  withRig,
  type WordedDraft,
  type Model,
  type Plan,
  type Prefix,
  type Vlan,
} from '../../../src/lint/rule.js';

/** A VLAN's subnet of one family. */
interface Entry {
  readonly vlan: Vlan;
  readonly subnet: Prefix;
  readonly key: 'subnet' | 'subnet6';
}

export default defineRule({
  id: 'subnets/overlap',
  summary: 'Subnets of two VLANs overlap',
  severity: 'error',
  sources: [
    clause('RFC 4632', '5.1'),
    clause('RFC 1122', '3.3.1.1'),
    commonPractice('no two subnets of one rig overlap'),
  ],
  needs: ['subnets'],
  *check({ plan, model }) {
    for (const entries of [entriesOf(plan, 'number'), entriesOf(plan, 'bigint')]) {
      if (!anyOverlap(entries)) continue;
      const nextFree = createFreeBlocks(entries.map(({ subnet }) => subnet));
      for (const { cluster, meets } of clustersOf(entries, plan, model)) {
        const sorted = byLabel(cluster, ({ vlan, subnet }) => `${vlanSubject(vlan)} ${formatPrefix(subnet)}`);
        const narrowest = sorted.reduce((a, b) => (b.subnet.length > a.subnet.length ? b : a));
        const others = sorted.filter((entry) => entry !== narrowest);
        const free = nextFree(narrowest.subnet);
        const names = sorted.map(({ vlan, subnet }) => `${vlan.name} ${formatPrefix(subnet)}`);
        if (isOneVlan(cluster)) {
          yield oneVlan(sorted);
          continue;
        }
        yield {
          subject: subjectOf(sorted),
          parties: sorted.map(({ vlan }) => vlan.name),
          severity: meets ? 'error' : 'warning',
          what: `subnets of ${sorted.length} VLANs overlap: ${listNames(names)}${meets ? '' : '; nothing joins the VLANs today'}`,
          at: mark(narrowest.vlan, `VLAN ${narrowest.vlan.name}: give this one a block of its own`, narrowest.key),
          others: others.map(({ vlan, subnet, key }) => mark(vlan, `VLAN ${vlan.name}, ${formatPrefix(subnet)}`, key)),
          onAir: meets
            ? 'a router or a box in both sends what is meant for one to the other: some boxes cannot be reached by unicast, others only from one side'
            : 'nothing until the VLANs are joined, or one box stands in both: then some boxes cannot be reached by unicast',
          fix: `give VLAN ${narrowest.vlan.name} a block that no other VLAN uses${free === undefined ? '' : `, such as ${formatPrefix(free)}`}`,
          touch: { kind: 'vlan', name: narrowest.vlan.name },
        };
      }
    }
  },
});

/** Entries of several rigs that a join makes one VLAN. */
function isOneVlan([first, ...rest]: readonly Entry[]): boolean {
  const joinedAs = first?.vlan.joinedAs;
  return joinedAs !== undefined && rest.every(({ vlan }) => vlan.joinedAs === joinedAs);
}

function oneVlan(sorted: readonly Entry[]): WordedDraft {
  const widest = sorted.reduce((a, b) => (b.subnet.length < a.subnet.length ? b : a));
  const changed = sorted.filter(({ subnet }) => subnet.length !== widest.subnet.length);
  const at = changed[0] ?? widest;
  const label = ({ vlan, subnet }: Entry): string => `${withRig(vlan)}, ${formatPrefix(subnet)}`;
  return {
    subject: subjectOf(sorted),
    parties: sorted.map(({ vlan }) => withRig(vlan)),
    what: `${listNames(sorted.map(({ vlan }) => withRig(vlan)))} become one VLAN, but their subnets only overlap: ${listNames(sorted.map(({ subnet }) => formatPrefix(subnet)))}`,
    at: mark(at.vlan, `VLAN ${label(at)}`, at.key),
    others: sorted.filter((entry) => entry !== at).map((entry) => mark(entry.vlan, `VLAN ${label(entry)}`, entry.key)),
    onAir:
      'boxes of the two rigs disagree about who is near: where one side sends straight and the other by the gateway, or not at all, control and unicast work one way only',
    fix: `write ${formatPrefix(widest.subnet)} in ${listNames(changed.map(({ vlan }) => withRig(vlan)))} and on its boxes, or give it a block of its own`,
    touch: { kind: 'vlan', name: at.vlan.name },
  };
}

function subjectOf(sorted: readonly Entry[]): string {
  const [first] = sorted;
  const oneRig = first !== undefined && sorted.every(({ vlan }) => vlan.rig === first.vlan.rig);
  const names = sorted.map(({ vlan }) => (oneRig ? vlan.name : vlanSubject(vlan))).join(', ');
  return `${names}${oneRig ? inRig(first.vlan.rig) : ''}${typeof first?.subnet.network === 'bigint' ? ', IPv6' : ''}`;
}

/** Sorted so that a subnet comes right before those inside it. */
function entriesOf(plan: Plan, family: 'number' | 'bigint'): readonly Entry[] {
  const entries = plan.vlans.flatMap((vlan) =>
    (['subnet', 'subnet6'] as const).flatMap((key): Entry[] => {
      const subnet = vlan[key];
      return subnet === undefined || typeof subnet.network !== family ? [] : [{ vlan, subnet, key }];
    }),
  );
  return entries.sort((a, b) => comparePrefixes(a.subnet, b.subnet));
}

/** Prefixes nest or are apart, so the first of two that overlap holds all that come between them. */
function anyOverlap(entries: readonly Entry[]): boolean {
  let before: Prefix | undefined;
  for (const { subnet } of entries) {
    if (before !== undefined && inPrefix(subnet.network, before)) return true;
    before = subnet;
  }
  return false;
}

interface Cluster {
  readonly cluster: readonly Entry[];
  readonly meets: boolean;
}

/**
 * Prefixes nest or are apart, so a walk in address order with the open subnets on a stack meets every overlap. Only
 * those are joined that share a box, a reachability, or at least a rig.
 */
function clustersOf(entries: readonly Entry[], plan: Plan, model: Model): readonly Cluster[] {
  const boxes = boxesOf(plan);
  const met = new UnionFind<Entry>();
  const meeting = new Set<Entry>();
  const open: Entry[] = [];
  const byToken = new Map<object, Entry[]>();
  const seen = new Map<string, Set<object>>();
  for (const entry of entries) {
    const ended = (one: Entry | undefined): one is Entry =>
      one !== undefined && rangeOf(one.subnet).last < entry.subnet.network;
    for (let top = open.at(-1); ended(top); top = open.at(-1)) {
      open.pop();
      for (const token of tokensOf(top)) byToken.get(token)?.pop();
    }
    if (isAgain(entry)) continue;
    const [rig, ...rest] = tokensOf(entry);
    for (const token of [rig, ...rest]) {
      const before = token === undefined ? undefined : byToken.get(token)?.at(-1);
      if (before === undefined || before.vlan === entry.vlan) continue;
      met.union(before, entry);
      if (token !== rig) meeting.add(entry);
    }
    open.push(entry);
    for (const token of [rig, ...rest]) {
      if (token === undefined) continue;
      const list = byToken.get(token);
      if (list === undefined) byToken.set(token, [entry]);
      else list.push(entry);
    }
  }
  const clusters = new Map<Entry, Entry[]>();
  for (const entry of entries) {
    if (!met.has(entry)) continue;
    const root = met.find(entry);
    const list = clusters.get(root);
    if (list === undefined) clusters.set(root, [entry]);
    else list.push(entry);
  }
  return [...clusters.values()].map((cluster) => ({ cluster, meets: cluster.some((entry) => meeting.has(entry)) }));

  function tokensOf({ vlan }: Entry): readonly object[] {
    return [vlan.rig, model.unicastReach.joined(vlan), ...(boxes.get(vlan) ?? [])];
  }

  /** One VLAN written by two rigs, which links tie together; or one name written twice, which is a fault of its own. */
  function isAgain({ vlan, subnet }: Entry): boolean {
    const key = formatPrefix(subnet);
    let known = seen.get(key);
    if (known === undefined) seen.set(key, (known = new Set()));
    const wire = model.unicastReach.wire(vlan);
    const again = known.has(wire);
    known.add(wire);
    return again;
  }
}

/** Devices with an interface in a VLAN. */
function boxesOf(plan: Plan): ReadonlyMap<Vlan, ReadonlySet<object>> {
  const boxes = new Map<Vlan, Set<object>>();
  for (const { vlan, device } of plan.interfaces) {
    if (vlan === undefined) continue;
    const set = boxes.get(vlan);
    if (set === undefined) boxes.set(vlan, new Set([device]));
    else set.add(device);
  }
  return boxes;
}
