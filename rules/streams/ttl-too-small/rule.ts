import { certainly, createEditList } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  groupBy,
  legLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
  type FindingDraft,
  type Leg,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import {
  behindRouters,
  causeLegLabel,
  endingEarly,
  shortLived,
  touchOfCause,
  writtenOnce,
  type WrittenOnce,
} from '../../../src/doors/streams.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'streams/ttl-too-small',
  summary: 'The TTL of a stream is too small to reach its receivers',
  severity: 'error',
  sources: [
    clause('RFC 1112', '2'),
    clause('RFC 1112', '7.2'),
    clause('RFC 1122', '3.2.1.7'),
    clause('RFC 1812', '4.2.2.9'),
  ],
  needs: ['ttl'],
  brief: 'TTL too small',
  explains: ['time to live'],
  *check({ plan, model }) {
    const { lowTtl } = model.unusualLegs;
    const none = lowTtl.filter(({ ttl }) => ttl === 0);
    for (const cause of writtenOnce(none, 'ttl')) yield finding(cause, 0, 0, []);
    const one = new Set(lowTtl.filter(({ ttl, group }) => ttl === 1 && group !== undefined));
    const short = shortLived(model.routedReceptions);
    const routers = new Map(short.map((entry) => [entry.leg, entry.routers]));
    const far = new Map<Leg, readonly ReceiverLeg[]>([
      ...behindRouters(plan, one, model.domains, model.reception),
      ...short.filter(({ leg: { ttl } }) => ttl !== 0).map(({ leg, takers }) => [leg, takers] as const),
    ]);
    const routed = endingEarly(plan, model.network);
    const takers = groupBy(routed.size === 0 ? [] : plan.receiverLegs, ({ takes }) =>
      takes !== undefined && routed.has(takes) ? takes : undefined,
    );
    for (const [leg, own] of takers) far.set(leg, own);
    for (const [leg, boxes] of routed) routers.set(leg, boxes);
    for (const cause of writtenOnce([...far.keys()], 'ttl')) {
      const senders = new Set(cause.senders);
      const own = [...far].filter(([leg]) => senders.has(leg.sender));
      const receivers = byLabel([...new Set(own.flatMap(([, legs]) => legs))], receiverLegLabel);
      const most = Math.max(1, ...own.map(([leg]) => routers.get(leg) ?? 1));
      yield finding(cause, cause.legs[0].ttl ?? 1, most, receivers);
    }
  },
  words,
});

function finding(
  cause: WrittenOnce,
  ttl: number,
  routers: number,
  receivers: readonly ReceiverLeg[],
): FindingDraft<Facts, Note> {
  const senders = byLabel(cause.senders, ({ label }) => label);
  const vlans = new Set(receivers.flatMap(({ vlan }) => vlan?.name ?? []));
  const [at, ...others] = mapAll(byLabel(cause.legs, legLabel), (leg) =>
    noted(mark(leg, causeLegLabel(cause, leg), 'ttl'), { ttl }),
  );
  return {
    subject: `${cause.subject} TTL ${ttl}`,
    parties: [...senders.map(({ label }) => label), ...receivers.map(receiverLegLabel)],
    cure: () => {
      const edits = createEditList();
      for (const leg of cause.legs) edits.setWhereWritten(leg, 'ttl', Math.max(USUAL_TTL, routers + 1));
      return certainly(edits);
    },
    facts: {
      ttl,
      routers,
      senders,
      receivers,
      vlans: byLabel([...vlans], (name) => name),
      toGroups: cause.legs.some(({ group }) => group !== undefined),
    },
    at,
    others: [...others, ...receivers.map((leg) => noted(mark(leg, receiverLegLabel(leg)), 'behind-router'))],
    touch: touchOfCause(cause.kind, senders[0]),
  };
}

/** RFC 1700, "IP Time to Live Parameter"; far above any number of routers in a rig. */
const USUAL_TTL = 64;
