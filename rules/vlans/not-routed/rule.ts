import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  legLabel,
  listNames,
  mark,
  sameMeaning,
  type Domains,
  type Leg,
  type Model,
  type Plan,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'vlans/not-routed',
  summary: 'A receiver takes a stream from a VLAN that nothing routes to its own',
  severity: 'error',
  sources: [
    clause('RFC 1112', '7.2'),
    clause('IEEE 802.1Q-2022', '8.6'),
    commonPractice('multicast leaves its VLAN through a multicast router only'),
  ],
  needs: ['groups', 'receivers', 'interfaceVlans'],
  *check({ plan, model }) {
    const routed = plan.vlans.some((vlan) => vlan.routing !== undefined);
    for (const { from, to, streams, takers } of crossings(plan, model)) {
      const label = (vlan: Vlan): string => (from.rig === to.rig ? vlan.name : `${vlan.name} of ${vlan.rig.name}`);
      const receivers = byLabel([...takers], receiverLabel);
      const legs = byLabel([...streams], legLabel);
      const [first, ...rest] = receivers;
      if (first === undefined) continue;
      const names = legs.map(legLabel);
      yield {
        subject: `${label(from)} to ${label(to)}`,
        parties: [...names, ...receivers.map(receiverLabel)],
        severity: routed ? 'error' : 'warning',
        what: `${listNames(receivers.map(receiverLabel))} in VLAN ${withId(label, to)} ${receivers.length === 1 ? 'takes' : 'take'} ${listNames(names)} from VLAN ${withId(label, from)}, and ${why(from, to, routed)}`,
        at: mark(first, `${receiverLabel(first)}, in VLAN ${label(to)}`, 'interface'),
        others: [
          ...rest.map((leg) => mark(leg, `${receiverLabel(leg)}, in VLAN ${label(to)}`, 'interface')),
          ...legs.map((leg) => mark(leg, `${legLabel(leg)}, in VLAN ${label(from)}`, 'group')),
        ],
        onAir: `${listNames(names)} never ${names.length === 1 ? 'reaches' : 'reach'} ${listNames(receivers.map(receiverLabel))}: the join stays in VLAN ${label(to)}, the stream in ${label(from)}`,
        fix: `receive on ${interfaceIn(from, receivers) ?? 'an interface'} in VLAN ${label(from)}, or route multicast between the two VLANs and state it as their \`routing\``,
        touch: { kind: 'device', name: first.receiver.device.name },
      };
    }
  },
});

function withId(label: (vlan: Vlan) => string, vlan: Vlan): string {
  return vlan.id === undefined ? label(vlan) : `${label(vlan)} (id ${vlan.id})`;
}

/** The interface each receiving device already has in a VLAN; undefined where one has none. */
function interfaceIn(vlan: Vlan, receivers: readonly ReceiverLeg[]): string | undefined {
  const names: string[] = [];
  for (const device of new Set(receivers.map(({ receiver }) => receiver.device))) {
    const via = device.interfaces.find((one) => one.vlan === vlan);
    if (via === undefined) return undefined;
    names.push(`${via.name} of ${device.name}`);
  }
  return names.length > 1 ? `${listNames(names, 3)},` : `interface ${names.join('')},`;
}

interface Crossing {
  readonly from: Vlan;
  readonly to: Vlan;
  readonly streams: Set<Leg>;
  readonly takers: Set<ReceiverLeg>;
}

function crossings(plan: Plan, model: Model): Iterable<Crossing> {
  const { domains } = model;
  let ofKinds: ReadonlySet<Leg> | undefined;
  const found = new Map<Vlan, Map<Vlan, Crossing>>();
  for (const leg of plan.receiverLegs) {
    const { takes, vlan } = leg;
    if (takes?.vlan === undefined || vlan === undefined || takes.vlan === vlan || takes.group === undefined) continue;
    if (
      sameMeaning(takes.vlan, vlan) ||
      domains.reach(takes) === domains.reach(leg) ||
      arrivesElsewhere(leg, takes, domains)
    )
      continue;
    // The kind that sends it on the wrong network is `groups/outside-house`'s to name.
    ofKinds ??= new Set(model.strays.kinds.flatMap(({ legs }) => legs));
    if (ofKinds.has(takes)) continue;
    const byTo = found.get(takes.vlan) ?? new Map<Vlan, Crossing>();
    found.set(takes.vlan, byTo);
    const crossing = byTo.get(vlan) ?? {
      from: takes.vlan,
      to: vlan,
      streams: new Set<Leg>(),
      takers: new Set<ReceiverLeg>(),
    };
    byTo.set(vlan, crossing);
    crossing.streams.add(takes);
    crossing.takers.add(leg);
  }
  return [...found.values()].flatMap((byTo) => [...byTo.values()]);
}

/** A receiver with more legs than the sender gets the stream on those that fit. */
function arrivesElsewhere(leg: ReceiverLeg, takes: Leg, domains: Domains): boolean {
  const domain = domains.reach(takes);
  return leg.receiver.legs.some((other) => other !== leg && other.takes === takes && domains.reach(other) === domain);
}

function receiverLabel(leg: ReceiverLeg): string {
  return leg.receiver.legs.length > 1 ? `${leg.receiver.label} leg ${leg.index + 1}` : leg.receiver.label;
}

function why(from: Vlan, to: Vlan, routed: boolean): string {
  if (!routed) return 'the plan states no multicast routing';
  const silent = [from, to].filter((vlan) => vlan.routing === undefined || vlan.routing.mode === 'none');
  return silent.length === 0
    ? 'no router routes multicast in both'
    : `no multicast routing is planned in ${listNames(
        byLabel(
          silent.map((vlan) => vlan.name),
          (name) => name,
        ),
      )}`;
}
