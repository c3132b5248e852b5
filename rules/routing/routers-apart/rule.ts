import { createEditList, likely, carryOnLinks, peopleDecide } from '../../../src/doors/cures.js';
import {
  apartRouters,
  byLabel,
  clause,
  defineRule,
  legLabel,
  linkLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
} from '../../../src/doors/rule.js';
import type { ApartRouters } from '../../../src/doors/routing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'routing/routers-apart',
  summary: 'The routers of two VLANs do not meet, and a receiver behind one takes a stream from behind the other',
  severity: 'error',
  sources: [clause('RFC 7761', '4.5.5'), clause('RFC 1112', '7.2')],
  needs: ['groups', 'receivers', 'multicastRouting', 'switchPorts'],
  brief: 'routers do not meet',
  explains: ['not routed', 'routers apart'],
  *check({ plan, model }) {
    for (const { few, many, between, cut, legs, takers } of byLabel(
      apartRouters(plan, model.network, model.routedReceptions),
      subjectOf,
    )) {
      const streams = byLabel(legs, legLabel);
      const receivers = byLabel(takers, receiverLegLabel);
      const [at, ...others] = mapAll(few, (box) => noted(mark(box, box.name, 'name'), 'router'));
      yield {
        subject: subjectOf({ few, many }),
        parties: [
          ...[...few, ...many].map(({ name }) => name),
          ...streams.map(legLabel),
          ...receivers.map(receiverLegLabel),
        ],
        cure: () => {
          const edits = createEditList();
          const done = between.length > 0 && cut.length > 0 && carryOnLinks(edits, between, cut);
          return done ? likely(edits, 'how the routers are to meet') : peopleDecide('how the routers are to meet');
        },
        facts: {
          few,
          many,
          between: byLabel(between, linkLabel),
          cut: byLabel(cut, ({ name }) => name),
          legs: streams,
          takers: receivers,
        },
        at,
        others: [
          ...others,
          ...many.map((box) => noted(mark(box, box.name, 'name'), 'router')),
          ...between.map((link) => mark(link, `link ${linkLabel(link)}`, 'ends')),
          ...receivers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        ],
        touch: { kind: 'ports' in few[0] ? 'switch' : 'device', name: few[0].name },
      };
    }
  },
  words,
});

/** Without the members of the larger group, which grows with the fabric. */
function subjectOf({ few, many }: Pick<ApartRouters, 'few' | 'many'>): string {
  const names = few.map(({ name }) => name).join(', ');
  return `${names} and ${many[0].name}`;
}
