import {
  byLabel,
  clause,
  defineRule,
  legLabel,
  linkLabel,
  mark,
  noted,
  receiverLegLabel,
} from '../../../src/doors/rule.js';
import { noNeighbours } from '../../../src/doors/routing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'routing/no-way-back',
  summary: 'The shortest way from a receiver to the source goes over a link that routes no multicast',
  severity: 'error',
  people: 'whether multicast is to take that way',
  sources: [clause('RFC 7761', '4.5.5'), clause('RFC 7761', '4.3.1')],
  needs: ['groups', 'receivers', 'multicastRouting', 'links'],
  brief: 'no path back to the source',
  explains: ['no way back'],
  *check({ plan, model }) {
    const found = noNeighbours(plan, model.routedReceptions);
    for (const { at: router, neighbour, links, legs, takers } of byLabel(
      found,
      (one) => `${one.at.name} to ${one.neighbour.name}`,
    )) {
      const streams = byLabel(legs, legLabel);
      const receivers = byLabel(takers, receiverLegLabel);
      const [first, ...rest] = byLabel(links, linkLabel);
      yield {
        subject: `${router.name} to ${neighbour.name}`,
        parties: [router.name, neighbour.name, ...streams.map(legLabel), ...receivers.map(receiverLegLabel)],
        facts: { router, neighbour, links: byLabel(links, linkLabel), legs: streams, takers: receivers },
        at:
          first === undefined
            ? mark(router, router.name, 'name')
            : noted(mark(first, `link ${linkLabel(first)}`, 'routed'), 'link'),
        others: [
          ...rest.map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'routed'), 'link')),
          ...receivers.map((leg) => mark(leg, receiverLegLabel(leg), 'interface')),
        ],
        touch:
          first === undefined
            ? { kind: 'ports' in router ? 'switch' : 'device', name: router.name }
            : { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});
