import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isSourceSpecificFor,
  kindThatWrites,
  listNames,
  mark,
  otherPlaces,
  receiverLegLabel,
  severalToldApart,
  type Model,
  type ReceiverLeg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/ssm-any-join',
  summary: 'A receiver joins a source-specific group without naming a source',
  severity: 'error',
  sources: [clause('RFC 4607', '5.2'), clause('RFC 4604', '2.1')],
  needs: ['receivers', 'joins'],
  *check({ plan, model }) {
    const faulty = plan.receiverLegs.filter(
      (leg) => leg.join === 'any' && isSpecific(leg) && !judgedElsewhere(leg, model),
    );
    for (const [subject, unsorted] of groupBy(faulty, subjectOf)) {
      const legs = byLabel(unsorted, receiverLegLabel);
      const [first] = legs;
      if (first === undefined) continue;
      const names = legs.map(receiverLegLabel);
      const groups = [...new Set(legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)])))];
      const kind = kindThatWrites(first, first.receiver.device, 'join');
      const at = mark(first, `${receiverLegLabel(first)}: joins any source`, 'join');
      yield {
        subject,
        parties: names,
        what: `${listNames(names, 4)} ${names.length === 1 ? 'joins' : 'join'} ${listNames(groups, 4)} from any source, but ${groups.length === 1 ? 'that group is' : 'those groups are'} source-specific`,
        at,
        others: otherPlaces(
          at,
          legs.slice(1).map((leg) => mark(leg, `${receiverLegLabel(leg)}: joins any source`, 'join')),
        ),
        onAir:
          'routers and switches that keep to source-specific rules ignore such a join: no picture or sound at all, though the stream is there',
        fix: `have ${names.length === 1 ? 'it' : 'them'} name the sender's address in the join (\`join: stated\`${sourcesOf(legs, model)}), or move the stream to an any-source group`,
        touch:
          kind === undefined
            ? { kind: 'device', name: first.receiver.device.name }
            : { kind: 'plan', name: `kind ${kind.name}` },
      };
    }
  },
});

function isSpecific({ group, receiver }: ReceiverLeg): boolean {
  return group !== undefined && isSourceSpecificFor(receiver.rig, group);
}

/** Several senders of the group: `sources/not-filtered`. */
function judgedElsewhere(leg: ReceiverLeg, model: Model): boolean {
  const use = model.reception.useOf(leg);
  return use !== undefined && use.legs.length > 1 && severalToldApart(use);
}

function subjectOf(leg: ReceiverLeg): string {
  const { receiver } = leg;
  const kind = kindThatWrites(leg, receiver.device, 'join');
  return kind === undefined ? receiver.device.name : `kind ${kind.name}`;
}

function sourcesOf(legs: readonly ReceiverLeg[], model: Model): string {
  const sources = [
    ...new Set(
      legs.flatMap((leg) =>
        model.reception.heard(leg).flatMap(({ source }) => (source === undefined ? [] : [formatAddress(source)])),
      ),
    ),
  ];
  return sources.length === 0 ? '' : `, ${listNames(sources, 3)}`;
}
