import {
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  listNames,
  mark,
  nothingOf,
  receiverLegLabel,
  touchOfCause,
  writtenOnce,
  type WordedDraft,
  type Leg,
  type Model,
  type Plan,
  type ReceiverLeg,
  type WrittenOnce,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'streams/ttl-too-small',
  summary: 'The TTL of a stream is too small to reach its receivers',
  severity: 'error',
  sources: [clause('RFC 1112', '2'), clause('RFC 1112', '7.2'), clause('RFC 1122', '3.2.1.7')],
  needs: ['ttl'],
  *check({ plan, model }) {
    for (const cause of writtenOnce(
      model.unusualNumbers.lowTtl.filter(({ ttl }) => ttl === 0),
      'ttl',
    ))
      yield neverLeaves(cause);
    const far = farReceivers(plan, model);
    for (const cause of writtenOnce([...far.keys()], 'ttl')) yield stopsAtRouter(cause, far);
  },
});

function neverLeaves(cause: WrittenOnce): WordedDraft {
  return finding(cause, 0, {
    what: `${about(cause)} with TTL 0, which must not leave the sender`,
    others: [],
    parties: [],
    onAir: `no packet reaches the network: ${nothingOf(cause.senders)} anywhere`,
    fix: 'set a TTL above the number of routers on the way, 1 at the least; 64 is a usual value',
  });
}

function stopsAtRouter(cause: WrittenOnce, far: ReadonlyMap<Leg, readonly ReceiverLeg[]>): WordedDraft {
  const senders = new Set(cause.senders);
  const receivers = byLabel(
    [...new Set([...far].flatMap(([leg, legs]) => (senders.has(leg.sender) ? legs : [])))],
    receiverLegLabel,
  );
  const names = receivers.map(receiverLegLabel);
  const vlans = [...new Set(receivers.flatMap(({ vlan }) => (vlan === undefined ? [] : [vlan.name])))];
  return finding(cause, 1, {
    what: `${about(cause)} with TTL 1, but ${listNames(names)} ${names.length === 1 ? 'takes' : 'take'} it in VLAN ${listNames(byLabel(vlans, (name) => name))}, behind a router`,
    others: receivers.map((leg) => mark(leg, `${receiverLegLabel(leg)}: takes it behind a router`)),
    parties: names,
    onAir:
      'the stream plays in its own VLAN and stops at the router, without any error message: the receivers behind it stay dark',
    fix: 'set a TTL above the number of routers on the way, 2 at the least; 64 is a usual value',
  });
}

interface Texts {
  readonly what: string;
  readonly others: readonly ReturnType<typeof mark>[];
  readonly parties: readonly string[];
  readonly onAir: string;
  readonly fix: string;
}

function finding(cause: WrittenOnce, ttl: number, texts: Texts): WordedDraft {
  const [first, ...rest] = byLabel(cause.legs, legLabel);
  const [sender] = byLabel(cause.senders, ({ label }) => label);
  if (first === undefined || sender === undefined) throw new Error('a cause has a sender and a leg');
  return {
    subject: `${cause.subject} TTL ${ttl}`,
    parties: [...cause.senders.map(({ label }) => label), ...texts.parties],
    what: texts.what,
    at: mark(first, `${causeLabel(cause, first)}: TTL ${ttl}`, 'ttl'),
    others: [...rest.map((leg) => mark(leg, `${causeLabel(cause, leg)}: TTL ${ttl}`, 'ttl')), ...texts.others],
    onAir: texts.onAir,
    fix: texts.fix,
    touch: touchOfCause(cause.kind, sender),
  };
}

function causeLabel({ kind, subject }: WrittenOnce, leg: Leg): string {
  return kind === undefined ? legLabel(leg) : `${subject} leg ${leg.index + 1}`;
}

function about({ senders }: WrittenOnce): string {
  const names = byLabel(senders, ({ label }) => label).map(({ label }) => label);
  return `${listNames(names)} ${names.length === 1 ? 'is' : 'are'} sent`;
}

/** Legs with TTL 1, with the receivers that only a router connects to them. */
function farReceivers(plan: Plan, model: Model): ReadonlyMap<Leg, readonly ReceiverLeg[]> {
  const short = new Set(model.unusualNumbers.lowTtl.filter(({ ttl, group }) => ttl === 1 && group !== undefined));
  if (short.size === 0) return new Map();
  const { domains, reception } = model;
  const pairs = plan.receiverLegs.flatMap((receiver) => {
    const [leg, another] = reception.heard(receiver);
    if (leg === undefined || another !== undefined || !short.has(leg)) return [];
    if (leg.vlan === undefined || receiver.vlan === undefined || leg.vlan === receiver.vlan) return [];
    // VLANs that are not joined by routing at all are a matter of the VLANs.
    const routed =
      domains.reach(leg) === domains.reach(receiver) && domains.switched(leg) !== domains.switched(receiver);
    return routed ? [{ leg, receiver }] : [];
  });
  return new Map(
    [...groupBy(pairs, ({ leg }) => leg)].map(([leg, list]) => [leg, list.map(({ receiver }) => receiver)]),
  );
}
