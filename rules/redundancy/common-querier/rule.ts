import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  inRig,
  listNames,
  mark,
  sharedByLegs,
  type Failure,
  type WordedDraft,
  type ForwardingSegment,
  type Model,
  type Plan,
  type Sender,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'redundancy/common-querier',
  summary: 'Both networks of redundant streams have their only querier in one box',
  severity: 'warning',
  sources: [
    clause('RFC 3376', '8.4'),
    clause('RFC 4541', '2.1.1'),
    commonPractice('each network of a redundant pair queries for itself'),
  ],
  needs: ['pairs', 'switchPorts', 'queriers'],
  *check({ plan, model }) {
    if (model.keptApart) return;
    const suspects = model.failures.ranked.filter(({ queriersLost }) => queriersLost.length > 1);
    if (suspects.length === 0) return;
    const forwardingOf = new Map(
      model.network.forwardings.flatMap((forwarding) =>
        forwarding.segment.domain.vlans.slice(0, 1).map((vlan) => [vlan, forwarding] as const),
      ),
    );
    const pairs = groundPairs(plan, model);
    const shared = new Set(sharedByLegs(model.failures).map(({ element }) => element));
    for (const failure of byLabel(suspects, ({ element }) => elementSubject(element))) {
      // A box on the way of both legs is the worse fault: redundancy/legs-share.
      if (shared.has(failure.element)) continue;
      const lost = new Set(failure.queriersLost.flatMap((vlan) => forwardingOf.get(vlan) ?? []));
      const hit = pairs.filter(({ a, b }) => lost.has(a) && lost.has(b));
      if (hit.length > 0) yield* finding(plan, failure, hit);
    }
  },
});

/** Two segments that carry legs of the same streams. */
interface Pair {
  readonly a: ForwardingSegment;
  readonly b: ForwardingSegment;
  readonly senders: Sender[];
}

function groundPairs(plan: Plan, { network }: Model): readonly Pair[] {
  const found = new Map<Vlan, Map<Vlan, Sender[]>>();
  const pairs: Pair[] = [];
  for (const sender of plan.senders) {
    const [first, second] = sender.legs;
    if (first?.vlan === undefined || second?.vlan === undefined) continue;
    let others = found.get(first.vlan);
    if (others === undefined) found.set(first.vlan, (others = new Map<Vlan, Sender[]>()));
    const known = others.get(second.vlan);
    if (known !== undefined) {
      known.push(sender);
      continue;
    }
    const senders = [sender];
    others.set(second.vlan, senders);
    const a = network.forwardingOf(first);
    const b = network.forwardingOf(second);
    if (a !== undefined && b !== undefined && a !== b) pairs.push({ a, b, senders });
  }
  return pairs;
}

function* finding(plan: Plan, { element }: Failure, pairs: readonly Pair[]): Iterable<WordedDraft> {
  const forwardings = [...new Set(pairs.flatMap(({ a, b }) => [a, b]))];
  const vlans = byLabel(
    forwardings.flatMap(({ segment }) => segment.domain.vlans.filter(({ igmp }) => (igmp?.queriers.length ?? 0) > 0)),
    ({ name, rig }) => `${name}${inRig(rig)}`,
  );
  const streams = byLabel(
    [...new Set(pairs.flatMap(({ senders }) => senders.map(({ label }) => label)))],
    (name) => name,
  );
  const [first] = vlans;
  if (first?.igmp === undefined) return;
  const seconds = Math.max(...forwardings.map(({ conduct }) => conduct.membershipS));
  const floods = forwardings.every(({ conduct }) => conduct.noQuerier === 'flood');
  yield {
    subject: elementSubject(element),
    parties: [elementLabel(element), ...vlans.map(({ name }) => name)],
    what: `the only queriers of ${listNames(vlans.map(({ name }) => `VLAN ${name}`))}, which carry both legs of ${listNames(streams, 4)}, ${element.kind === 'power feed' ? 'hang on' : 'are in'} ${elementLabel(element)}`,
    at: mark(first.igmp, `VLAN ${first.name}: querier`, 'querier'),
    others: [
      ...vlans
        .slice(1)
        .flatMap(({ igmp, name }) => (igmp === undefined ? [] : [mark(igmp, `VLAN ${name}: querier`, 'querier')])),
      ...elementMarks(plan, element),
    ],
    onAir: floods
      ? `when ${elementLabel(element)} fails both networks flood every stream to every port within ${seconds} s, and slow ports drop packets on both legs`
      : `when ${elementLabel(element)} fails the switches of both networks forget who joined what within ${seconds} s: both legs stop, one after the other`,
    fix: 'let a switch of each network query in its own VLANs, or name a second querier for one of them',
    touch: elementTouch(plan, element),
  };
}
