import { byLabel, clause, commonPractice, defineRule, linkLabel, mark, noted } from '../../../src/doors/rule.js';
import { type HalfRouted, halfRouted } from '../../../src/doors/routing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'routing/one-ended',
  summary: 'A network between two routers has one end only',
  severity: 'warning',
  confidence: 'likely',
  people: 'what stands at the other end',
  sources: [clause('RFC 3021', '2.1'), commonPractice('a subnet for two is a link between two routers')],
  needs: ['multicastRouting'],
  brief: 'one end only',
  *check({ plan }) {
    for (const half of byLabel(halfRouted(plan), subjectOf)) {
      const shared = { subject: subjectOf(half), facts: half };
      if (half.kind === 'VLAN')
        yield {
          ...shared,
          parties: [half.vlan.name, half.router.name],
          at: noted(mark(half.vlan.routing ?? half.vlan, `VLAN ${half.vlan.name}`, 'routers'), 'end'),
          others: [mark(half.router, half.router.name, 'name')],
          touch: { kind: 'vlan', name: half.vlan.name },
        };
      else
        yield {
          ...shared,
          parties: [linkLabel(half.link)],
          at: noted(mark(half.link, `link ${linkLabel(half.link)}`, 'routed'), 'end'),
          touch: { kind: 'link', name: linkLabel(half.link) },
        };
    }
  },
  words,
});

function subjectOf(half: HalfRouted): string {
  return half.kind === 'VLAN' ? `VLAN ${half.vlan.name}` : `link ${linkLabel(half.link)}`;
}
