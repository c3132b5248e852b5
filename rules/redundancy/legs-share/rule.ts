import {
  byLabel,
  clause,
  clauseFromMemory,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  kindThatWrites,
  mapAll,
  mark,
  noted,
  otherPlaces,
  type FindingDraft,
  type Leg,
  type Mark,
  type Model,
  type NonEmpty,
  type Plan,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import {
  causeOf,
  doubledLegs,
  doubledVlans,
  elementLabel,
  elementMarks,
  elementSubject,
  elementTouch,
  namedElement,
  sharedCauses,
  streamsOf,
  type DoubledLegs,
  type Fate,
} from '../../../src/doors/redundancy.js';
import { words, type Facts, type Note } from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'redundancy/legs-share',
  summary: 'Both legs of a stream depend on one thing',
  severity: 'warning',
  people: 'which cables, feeds and switches the second leg gets',
  sources: [
    clause('RFC 7198', '5'),
    clauseFromMemory('ST 2022-7', '6'),
    commonPractice('the two legs of a stream share nothing between the boxes at its ends'),
  ],
  needs: ['pairs'],
  brief: 'both legs depend on it',
  harm: 'exposes',
  *check({ plan, model }) {
    yield* interfaceFindings(plan, model);
    yield* vlanFindings(plan);
    if (model.keptApart || plan.interfaces.every(({ port }) => port === undefined)) return;
    for (const cause of sharedCauses(model.failures, ({ legs }) => legs.some(model.strays.meant)))
      yield* elementFinding(plan, cause);
  },
  words,
});

/** A sender or receiver with both legs on one interface although its device has another for media. */
function* interfaceFindings(plan: Plan, model: Model): Iterable<Draft> {
  const doubled = doubledLegs(plan, () => model.strays);
  const byCause = groupBy(doubled, ({ leg, device, via }) => {
    return `interface ${via.name} of ${causeOf(kindThatWrites(leg, device, 'interface'), device)}`;
  });
  for (const [cause, unordered] of byLabel([...byCause], ([key]) => key)) {
    const list = byLabel(unordered, ({ label }) => label);
    const [first] = list;
    const names = list.map(({ label }) => label);
    const at = noted(doubledMark(first), { via: first.via.name });
    yield {
      subject: cause,
      parties: names,
      facts: {
        form: 'interface',
        streams: names,
        via: first.via.name,
        leg: first.leg.index + 1,
        free: mapAll(first.free, ({ name }) => name),
        carries: list.map(({ carries }) => carries),
      },
      at,
      others: otherPlaces(at, list.map(doubledMark)),
      touch: { kind: 'device', name: first.device.name },
    };
  }
}

/** Two interfaces in one VLAN: any fault of that VLAN takes both. */
function* vlanFindings(plan: Plan): Iterable<Draft> {
  const byVlan = byLabel([...doubledVlans(plan)], ([{ name, rig }]) => `${name}${inRig(rig)}`);
  for (const [vlan, unordered] of byVlan) {
    const senders = byLabel(unordered, ({ label }) => label);
    const [{ label, legs }] = senders;
    const names = senders.map((one) => one.label);
    const [, second] = legs;
    if (second === undefined) continue;
    const at = noted(legMark(label, second), { vlan: vlan.name });
    yield {
      subject: `VLAN ${vlan.name}${inRig(vlan.rig)}`,
      parties: names,
      facts: { form: 'vlan', streams: names, vlan },
      at,
      others: otherPlaces(at, [
        ...senders.flatMap((sender) => sender.legs.map((leg) => legMark(sender.label, leg))),
        mark(vlan, `VLAN ${vlan.name}`, 'name'),
      ]),
      touch: { kind: 'vlan', name: vlan.name },
    };
  }
}

/** Switches, links, routers, risks and feeds that every leg crosses. */
function* elementFinding(plan: Plan, cause: NonEmpty<Fate>): Iterable<Draft> {
  const [{ element, lost }] = cause;
  const elements = mapAll(cause, (one) => one.element);
  const [at, ...others] = elements.flatMap((one) => elementMarks(plan, one));
  if (at === undefined) return;
  const streams = byLabel(streamsOf(lost), ({ label }) => label);
  const legs = streams.slice(0, MOST_MARKS).flatMap((sender) => sender.legs.map((leg) => legMark(sender.label, leg)));
  yield {
    subject: elementSubject(element),
    parties: [...elements.map(elementLabel), ...streams.map(({ label }) => label)],
    facts: {
      form: 'element',
      elements: mapAll(elements, namedElement),
      streams,
      receivers: byLabel([...new Set(lost.map(({ receiver }) => receiver.label))], (name) => name),
    },
    hits: [...new Set(lost.map(({ receiver }) => receiver))],
    at,
    others: otherPlaces<Note>(at, [...others, ...legs]),
    touch: elementTouch(plan, element),
  };
}

const MOST_MARKS = 10;

function doubledMark({ label, leg }: DoubledLegs): Mark<never> {
  return legMark(label, leg);
}

function legMark(label: string, leg: Leg | ReceiverLeg): Mark<never> {
  return mark(leg, `${label} leg ${leg.index + 1}`, 'interface');
}
