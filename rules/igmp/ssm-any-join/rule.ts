import { createEditList, certainly, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  kindThatWrites,
  mapAll,
  mark,
  noted,
  otherPlaces,
  receiverLegLabel,
  touchOfKind,
  type Address,
  type Kind,
  type Model,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import { hasSourceSpecificGroup, severalToldApart } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/ssm-any-join',
  summary: 'A receiver joins a source-specific group without naming a source',
  severity: 'error',
  sources: [clause('RFC 4607', '5.2'), clause('RFC 4604', '2.1')],
  needs: ['receivers', 'joins'],
  brief: 'source-specific join without a source',
  explains: ['refused join'],
  *check({ plan, model }) {
    const faulty = plan.receiverLegs.filter(
      (leg) => leg.join === 'any' && hasSourceSpecificGroup(leg) && !judgedElsewhere(leg, model),
    );
    for (const [subject, unsorted] of groupBy(faulty, subjectOf)) {
      const legs = byLabel(unsorted, receiverLegLabel);
      const [{ receiver }] = legs;
      const kind = kindOf(legs[0]);
      const [at, ...rest] = mapAll(legs, (leg) => noted(mark(leg, receiverLegLabel(leg), 'join'), 'anySource'));
      yield {
        subject,
        parties: legs.map(receiverLegLabel),
        cure: () => {
          const edits = createEditList();
          for (const leg of legs) {
            const heard = [...new Set(model.reception.heard(leg).map(({ source }) => source))];
            const [source] = heard;
            if (source === undefined || heard.length > 1)
              return peopleDecide('which sender is to be named in the join');
            edits.setWhereWritten(leg, 'join', 'stated');
            edits.set(leg, 'source', formatAddress(source));
          }
          return certainly(edits);
        },
        facts: {
          legs,
          groups: texts(legs.map(({ group }) => group)),
          sources: texts(legs.flatMap((leg) => model.reception.heard(leg).map(({ source }) => source))),
        },
        at,
        others: otherPlaces(at, rest),
        touch: kind === undefined ? { kind: 'device', name: receiver.device.name } : touchOfKind(kind),
      };
    }
  },
  words,
});

/** Several senders of the group: `sources/not-filtered`. */
function judgedElsewhere(leg: ReceiverLeg, model: Model): boolean {
  const use = model.reception.useOf(leg);
  return use !== undefined && use.legs.length > 1 && severalToldApart(use);
}

/** The kind that has all its devices join so. */
function kindOf(leg: ReceiverLeg): Kind | undefined {
  return kindThatWrites(leg, leg.receiver.device, 'join');
}

function subjectOf(leg: ReceiverLeg): string {
  const kind = kindOf(leg);
  return kind === undefined ? leg.receiver.device.name : `kind ${kind.name}`;
}

function texts(addresses: readonly (Address | undefined)[]): readonly string[] {
  return [...new Set(addresses.flatMap((one) => (one === undefined ? [] : [formatAddress(one)])))];
}
