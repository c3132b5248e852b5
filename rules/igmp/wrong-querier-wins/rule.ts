import { createEditList, likely, peopleDecide, setOnVlan } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  isNonEmpty,
  mapAll,
  mark,
  noted,
  segmentSubject,
  type Mark,
  formatAddress,
} from '../../../src/doors/rule.js';
import {
  boxTouch,
  citedFor,
  electionWinner,
  mayWin,
  querierFact,
  querierLabel,
  type Candidate,
  type Querier,
} from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const SOURCES = [clause('RFC 3376', '6.6.2'), clause('RFC 3810', '7.6.2'), clause('RFC 4541', '2.1.1')];

export default defineRule<Facts, Note>({
  id: 'igmp/wrong-querier-wins',
  summary: 'Another querier than the intended one wins the election',
  severity: 'warning',
  sources: SOURCES,
  needs: ['queriers'],
  brief: 'another querier wins',
  harm: 'later',
  *check({ model }) {
    for (const segment of model.groupSegments) {
      const { candidates, domain, protocol } = segment;
      if (candidates.length < 2) continue;
      const winner = electionWinner(candidates, protocol);
      const meant = byLabel(
        candidates.filter(({ intended }) => intended),
        labelOf,
      );
      if (winner === undefined || !isNonEmpty(meant)) continue;
      // A querier whose address is faulty is `igmp/querier-address`; of one without, nobody can tell.
      if (meant.some((one) => one.on === winner.on || !mayWin(one, protocol))) continue;
      const [intended] = meant;
      yield {
        subject: segmentSubject(segment),
        parties: [...meant, winner].flatMap(({ on }) => on?.name ?? []),
        confidence: [...meant, winner].every(({ querier }) => querier?.address !== undefined) ? 'certain' : 'assumed',
        cure: () => {
          const [{ vlan, querier }] = meant;
          if (winner.on === undefined || querier === undefined) return peopleDecide('who is to query');
          const edits = createEditList();
          const own = {
            on: winner.on.name,
            ...(winner.address === undefined ? {} : { address: formatAddress(winner.address) }),
          };
          const others = (vlan[protocol]?.queriers ?? []).flatMap((one) =>
            one.on === winner.on ? [] : [querierText(one)],
          );
          setOnVlan(edits, vlan, protocol, { querier: [own, ...others] });
          return likely(edits);
        },
        facts: {
          protocol,
          where: domain.title,
          winner: querierFact(winner),
          routes: winner.querier === undefined,
          meant: mapAll(meant, querierFact),
          streams: segment.sent.length,
          sentBps: segment.sent.reduce((sum, leg) => sum + (model.rates.onWire(leg)?.onLink ?? 0), 0),
        },
        at: intendedMark(intended),
        others: winnerMarks(winner),
        touch: boxTouch(intended.on, intended.vlan),
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
  words,
});

function labelOf(candidate: Candidate): string {
  return querierLabel(querierFact(candidate));
}

function intendedMark(one: Candidate): Mark<Note> {
  return one.querier === undefined
    ? mark(one.vlan, `VLAN ${one.vlan.name}`)
    : noted(mark(one.querier, labelOf(one), 'address'), 'meant');
}

function winnerMarks(one: Candidate): readonly Mark<Note>[] {
  if (one.querier !== undefined) return [noted(mark(one.querier, labelOf(one), 'address'), 'wins')];
  const { routing } = one.vlan;
  return routing === undefined ? [] : [noted(mark(routing, labelOf(one), 'routers'), 'routes')];
}

function querierText({ on, address }: Querier): Readonly<Record<string, string>> {
  return {
    ...(on === undefined ? {} : { on: on.name }),
    ...(address === undefined ? {} : { address: formatAddress(address) }),
  };
}
