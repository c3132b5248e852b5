import { certainly, createEditList, likely, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isNonEmpty,
  legLabel,
  mark,
  noted,
  otherPlaces,
  receiverLegLabel,
  sourceMark,
  type Address,
  type FindingDraft,
  type Mark,
  type Model,
  type NonEmpty,
  type Receiver,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import { groupDiffers, legsSwapped, sourceDiffers } from '../../../src/doors/receivers.js';
import { joinWords, words, type Facts, type Join, type Note, type WrongLeg } from './words.js';

export default defineRule<Facts, Note>({
  id: 'receivers/group-differs',
  summary: 'A receiver joins another group or source than the stream it takes is sent with',
  severity: 'error',
  sources: [clause('RFC 1112', '4'), clause('RFC 4607', '1')],
  needs: ['receivers'],
  brief: 'joins another group',
  explains: ['other group', 'other source'],
  *check({ plan, model }) {
    const wrong = groupBy(
      plan.receiverLegs.filter((leg) => groupDiffers(leg) || sourceDiffers(leg)),
      (leg) => leg.receiver,
    );
    // Receivers that are wrong in the same way have one cause: the stream was moved, or one line was copied.
    const [single, choices] = parted(wrong.keys(), ({ selection }) => selection === undefined);
    for (const inputs of groupBy(choices, ({ selection }) => selection).values()) {
      const finding = choiceFinding(inputs, wrong, model);
      if (finding !== undefined) yield finding;
    }
    for (const [sender, receivers] of groupBy(single, (receiver) => receiver.takes)) {
      const sameWay = groupBy(receivers, (receiver) =>
        (wrong.get(receiver) ?? []).map(joinOf).map(joinWords).join(', '),
      );
      for (const [joined, list] of sameWay) {
        const ordered = byLabel(list, ({ label }) => label);
        const [first] = ordered;
        const legs = wrong.get(first) ?? [];
        if (!isNonEmpty(legs)) continue;
        const at = differenceMark(legs[0]);
        yield {
          subject: `${sender.label} joined as ${joined}`,
          parties: [sender, ...ordered].map(({ label }) => label),
          cure: () => cure(ordered.flatMap((receiver) => wrong.get(receiver) ?? [])),
          facts: {
            sender,
            receivers: ordered,
            legs: legs.map((leg) => wrongLeg(leg, model)),
            swapped: legsSwapped(sender, legs),
            otherLegLeft: legs.length < first.legs.length,
            choices: [],
          },
          at,
          others: otherPlaces<Note>(at, [
            ...ordered.flatMap((receiver) => (wrong.get(receiver) ?? []).map(differenceMark)),
            ...legs.flatMap(takenMark),
          ]),
          touch: { kind: 'device', name: first.device.name },
        };
      }
    }
  },
  words,
});

/** An input that switches and yet joins what it joins whatever it chooses. */
function choiceFinding(
  choices: NonEmpty<Receiver>,
  wrong: ReadonlyMap<Receiver, NonEmpty<ReceiverLeg>>,
  model: Model,
): FindingDraft<Facts, Note> | undefined {
  const [first] = byLabel(choices, ({ takes }) => takes?.label ?? '');
  const sender = first.takes;
  const legs = wrong.get(first);
  if (sender === undefined || legs === undefined) return undefined;
  const at = differenceMark(legs[0]);
  const joined = legs.map(joinOf).map(joinWords).join(', ');
  const senders = byLabel([...new Set(choices.flatMap(({ takes }) => takes ?? []))], ({ label }) => label);
  return {
    subject: `${first.label} joins ${joined} for any choice`,
    parties: [first, ...senders].map(({ label }) => label),
    cure: () => {
      const edits = createEditList();
      for (const leg of first.legs)
        for (const key of ['group', 'source']) if (edits.says(leg, key)) edits.remove(leg, key);
      return certainly(edits);
    },
    facts: {
      sender,
      receivers: [first],
      legs: legs.map((leg) => wrongLeg(leg, model)),
      swapped: false,
      otherLegLeft: legs.length < first.legs.length,
      choices: senders,
    },
    at,
    others: otherPlaces<Note>(at, [...legs.map(differenceMark), ...legs.flatMap(takenMark)]),
    touch: { kind: 'device', name: first.device.name },
  };
}

function parted<T>(items: Iterable<T>, isFirst: (item: T) => boolean): readonly [readonly T[], readonly T[]] {
  const all = [...items];
  return [all.filter(isFirst), all.filter((item) => !isFirst(item))];
}

/** What a leg joins, as far as it differs. */
function joinOf(leg: ReceiverLeg): Join {
  return {
    ...(groupDiffers(leg) ? { group: text(leg.group) } : {}),
    ...(sourceDiffers(leg) ? { source: text(leg.source) } : {}),
  };
}

function wrongLeg(leg: ReceiverLeg, { reception }: Model): WrongLeg {
  const senders = new Set((reception.useOf(leg)?.legs ?? []).map(({ sender }) => sender.label));
  return {
    leg: leg.receiver.legs.length > 1 ? leg.index + 1 : undefined,
    joins: joinOf(leg),
    joinedSenders: byLabel([...senders], (label) => label),
    sent: { group: text(leg.takes?.group ?? leg.takes?.unicast), source: text(leg.takes?.source) },
    group: text(leg.group),
  };
}

function text(address: Address | undefined): string {
  return address === undefined ? '' : formatAddress(address);
}

function differenceMark(leg: ReceiverLeg): Mark<Note> {
  const key = groupDiffers(leg) ? 'group' : 'source';
  return noted(mark(leg, receiverLegLabel(leg), key), { joins: joinOf(leg) });
}

function takenMark(leg: ReceiverLeg): readonly Mark<Note>[] {
  const { takes } = leg;
  if (takes === undefined) return [];
  const name = legLabel(takes);
  if (!groupDiffers(leg)) return [noted(sourceMark(takes, name), { sendsFrom: text(takes.source) })];
  const key = takes.group === undefined ? 'unicast' : 'group';
  return [noted(mark(takes, name, key), { sendsTo: text(takes.group ?? takes.unicast) })];
}

/** What the taken stream is sent with. */
function cure(legs: readonly ReceiverLeg[]): Cure {
  const edits = createEditList();
  for (const leg of legs) {
    const { takes } = leg;
    if (groupDiffers(leg)) {
      if (takes?.group === undefined) edits.remove(leg, 'group');
      else edits.setWhereWritten(leg, 'group', formatAddress(takes.group));
    }
    if (!sourceDiffers(leg)) continue;
    if (takes?.source === undefined) edits.remove(leg, 'source');
    else edits.setWhereWritten(leg, 'source', formatAddress(takes.source));
  }
  return likely(edits);
}
