import { commonPractice, defineRule, linkLabel, mark } from '../../../src/doors/rule.js';
import { linkEnds } from '../../../src/doors/links.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'links/self-link',
  summary: 'A link leads from a switch to itself',
  severity: 'warning',
  people: 'where the cable ends',
  sources: [commonPractice('a switch is not linked to itself')],
  needs: ['links'],
  brief: 'leads to itself',
  *check({ plan }) {
    for (const link of plan.links) {
      const [a, b] = link.ends;
      if (a.switch === undefined || a.switch !== b.switch) continue;
      const form = a.text === b.text ? 'port' : 'switch';
      yield {
        subject: linkEnds(link),
        parties: [a.switch.name],
        severity: form === 'port' ? 'error' : 'warning',
        facts: { form, link, switch: a.switch, end: a.text },
        at: mark(link, `link ${linkLabel(link)}`, 'ends'),
        touch: { kind: 'link', name: linkLabel(link) },
      };
    }
  },
  words,
});
