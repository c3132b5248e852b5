import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  groupBy,
  mark,
  noted,
  otherPlaces,
  ownerLabel,
  receiverLegLabel,
  type Address,
  type FindingDraft,
  type Mark,
  type Model,
  type NonEmpty,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import { isSilent, siblingStream, standsInConventions, type GroupUse } from '../../../src/doors/receivers.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'receivers/nobody-sends',
  summary: 'A receiver joins a group, or a source of it, that nothing in the plan sends where it stands',
  severity: 'error',
  sources: [
    clause('RFC 1112', '4'),
    clause('RFC 4607', '1'),
    commonPractice('a plan lists every stream its receivers take'),
  ],
  needs: ['groups', 'receivers'],
  brief: 'nobody sends what it joins',
  explains: ['nobody sends'],
  *check({ plan, model }) {
    const silent = plan.receiverLegs.filter(
      (leg) => leg.takes === undefined && leg.groupStated && isSilent(leg, model.reception, model.domains),
    );
    for (const inDomain of groupBy(silent, (leg) => model.domains.reach(leg)).values()) {
      for (const [group, ofGroup] of groupBy(inDomain, (leg) => leg.group)) {
        for (const alike of groupBy(ofGroup, (leg) => leg.source ?? 'any').values()) {
          const legs = byLabel(alike, receiverLegLabel);
          const use = model.reception.useOf(legs[0]);
          yield use === undefined ? unsent(legs, group, model) : otherSources(legs, group, use, model);
        }
      }
    }
  },
  words,
});

type Draft = FindingDraft<Facts, Note>;

/** What both forms of the finding say alike. */
function base(legs: NonEmpty<ReceiverLeg>, group: Address, key: 'group' | 'source', model: Model) {
  const [first, ...rest] = legs;
  const source = first.source === undefined ? undefined : formatAddress(first.source);
  const asked = `${formatAddress(group)}${source === undefined ? '' : ` from ${source}`}`;
  const at = noted(mark(first, receiverLegLabel(first), key), { says: 'joins', asked });
  return {
    subject: `${asked} in ${model.domains.reach(first).key}`,
    at,
    others: (marks: readonly Mark<Note>[]): readonly Mark<Note>[] =>
      otherPlaces<Note>(at, [...rest.map((leg) => mark(leg, receiverLegLabel(leg), key)), ...marks]),
    joins: { legs, group: formatAddress(group), source },
    touch: { kind: 'device', name: first.receiver.device.name } as const,
  };
}

/** Nobody sends the group where the receivers stand. */
function unsent(legs: NonEmpty<ReceiverLeg>, group: Address, model: Model): Draft {
  const { subject, at, others, joins, touch } = base(legs, group, 'group', model);
  const [first] = legs;
  const { source } = first;
  const owners = source === undefined ? [] : byLabel(model.owners.byAddress.get(source) ?? [], ownerLabel);
  const uses = byLabel(model.groups.usesOf(group), (use) => use.domain.title);
  const elsewhere = byLabel(
    uses.flatMap((use) => use.legs),
    (one) => one.sender.label,
  );
  const sibling = siblingStream(first, model.domains.reach(first), model.reception, model.domains);
  return {
    subject,
    parties: [...legs.map(receiverLegLabel), ...owners.map(ownerLabel), ...elsewhere.map(({ sender }) => sender.label)],
    severity: isOurs(group, first, model) ? 'error' : 'warning',
    // Somebody outside the plan may send it.
    confidence: 'likely',
    cure: () => {
      const edits = createEditList();
      if (sibling !== undefined)
        for (const leg of legs) edits.setWhereWritten(leg, 'group', formatAddress(sibling.group));
      return likely(edits, 'which stream is meant, or who outside the plan sends it');
    },
    facts: {
      form: 'unsent',
      ...joins,
      where: model.domains.reach(first).title,
      owner: owners[0] === undefined ? undefined : ownerLabel(owners[0]),
      senders: [...new Set(elsewhere.map(({ sender }) => sender))],
      sentIn: uses.map((use) => use.domain.title),
      sibling: sibling === undefined ? undefined : { ...sibling, group: formatAddress(sibling.group) },
    },
    at,
    others: others([
      ...owners.map((one) => mark(one, ownerLabel(one))),
      ...elsewhere.map((leg) => noted(mark(leg, leg.sender.label, 'group'), { says: 'sends-elsewhere' })),
    ]),
    touch,
  };
}

/** The group is sent, but not from the source that is asked for. */
function otherSources(legs: NonEmpty<ReceiverLeg>, group: Address, use: GroupUse, model: Model): Draft {
  const { subject, at, others, joins, touch } = base(legs, group, 'source', model);
  const sent = byLabel(use.legs, (leg) => leg.sender.label);
  return {
    subject,
    parties: [...legs.map(receiverLegLabel), ...sent.map(({ sender }) => sender.label)],
    severity: 'error',
    cure: () => {
      const edits = createEditList();
      const sources = [...new Set(sent.map(({ source }) => source))];
      const [source] = sources;
      if (source !== undefined && sources.length === 1)
        for (const leg of legs) edits.setWhereWritten(leg, 'source', formatAddress(source));
      return likely(edits, 'which of the senders is meant');
    },
    facts: {
      form: 'other-sources',
      ...joins,
      sources: sent.map(({ source, sender }) => ({
        address: source === undefined ? '' : formatAddress(source),
        sender,
      })),
    },
    at,
    others: others(sent.map((leg) => noted(mark(leg, leg.sender.label, 'group'), { says: 'sends' }))),
    touch,
  };
}

/** The stated source is a device of this plan, or the conventions promise to give out the group itself. */
function isOurs(group: Address, { source, receiver }: ReceiverLeg, { owners }: Model): boolean {
  return (source !== undefined && owners.byAddress.has(source)) || standsInConventions(group, receiver.rig.conventions);
}
