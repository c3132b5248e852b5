import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupWords,
  inRig,
  isMulticast,
  legLabel,
  legSets,
  listNames,
  mark,
  multicastScope6,
  otherMarks,
  receiverLegLabel,
  scopeFaults6,
  touchOf,
  whereTo,
  type WordedDraft,
  type Leg,
  type Model,
  type ReceiverLeg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/ipv6-scope',
  summary: 'The scope of an IPv6 group is too small for its receivers, or is none',
  severity: 'error',
  sources: [clause('RFC 4291', '2.7'), clause('RFC 7346', '2')],
  needs: ['groups'],
  *check({ model }) {
    yield* withoutScope(model);
    yield* linkLocalButRouted(model);
  },
});

function* withoutScope(model: Model): Iterable<WordedDraft> {
  for (const set of legSets(model.misplaced.get('scope-fault') ?? [], subjectOf)) {
    const { first, legs, names, subject } = set;
    if (typeof first.group !== 'bigint') continue;
    const faults = scopeFaults6(first.group);
    yield {
      subject,
      parties: names,
      what: `${groupWords(legs)} of ${listNames(names)} can't leave the sender: ${listNames(faults.map(({ title }) => title))}`,
      at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
      others: otherMarks(set),
      onAir: 'no receiver ever gets it',
      fix: `move it to a free group in ${whereTo(model, legs)}`,
      touch: touchOf(first.sender),
    };
  }
}

/** A link-local group is fine until somebody behind a router wants it. */
function* linkLocalButRouted(model: Model): Iterable<WordedDraft> {
  const { domains, plan } = model;
  const waiting = new Map<Leg, ReceiverLeg[]>();
  for (const receiver of plan.receiverLegs) {
    const leg = receiver.takes;
    if (
      typeof leg?.group !== 'bigint' ||
      receiver.group !== leg.group ||
      !isMulticast(leg.group) ||
      multicastScope6(leg.group).edge !== 'link'
    )
      continue;
    if (domains.switched(receiver) === domains.switched(leg) || domains.reach(receiver) !== domains.reach(leg))
      continue;
    const list = waiting.get(leg);
    if (list === undefined) waiting.set(leg, [receiver]);
    else list.push(receiver);
  }
  const permanent = new Set(model.misplaced.get('link-control') ?? []);
  for (const set of legSets(
    [...waiting.keys()].filter((leg) => !permanent.has(leg)),
    subjectOf,
  )) {
    const { first, legs, names, subject } = set;
    const receivers = byLabel(
      legs.flatMap((leg) => waiting.get(leg) ?? []),
      receiverLegLabel,
    );
    const labels = receivers.map(receiverLegLabel);
    yield {
      subject,
      parties: [...names, ...labels],
      what: `${groupWords(legs)} of ${listNames(names)} is link-local, and ${listNames(labels)} ${labels.length === 1 ? 'is' : 'are'} behind a router`,
      at: mark(first, `${legLabel(first)}: ${formatAddress(first.group ?? 0)}`, 'group'),
      others: [...otherMarks(set), ...receivers.map((receiver) => mark(receiver, receiverLegLabel(receiver), 'takes'))],
      onAir: `no router passes it on: ${listNames(labels)} ${labels.length === 1 ? 'stays' : 'stay'} black`,
      fix: `move it to a free group in ${whereTo(model, legs)}`,
      touch: touchOf(first.sender),
    };
  }
}

function subjectOf({ group, sender }: Leg): string {
  return `${formatAddress(group ?? 0)}${inRig(sender.rig)}`;
}
