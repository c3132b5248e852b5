import { byLabel, clause, defineRule, inRig, linkLabel, mark } from '../../../src/doors/rule.js';
import { partedAggregates } from '../../../src/doors/links.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'links/aggregate-ends-apart',
  summary: 'Links of one aggregate end at several switches that are not stated to act as one',
  severity: 'warning',
  people: 'at which switches the cables end',
  sources: [clause('IEEE 802.1AX-2020', '6.2.1'), clause('IEEE 802.1AX-2020', '9')],
  needs: ['links'],
  brief: 'aggregate ends at several switches',
  harm: 'exposes',
  *check({ plan }) {
    for (const { name, rig, links, ends, why } of byLabel(partedAggregates(plan), (one) => keyOf(one.name, one.ends))) {
      const [first, ...rest] = links;
      yield {
        subject: `aggregate ${keyOf(name, ends)}${inRig(rig)}`,
        parties: [...links.map(linkLabel), ...ends.flat().map((one) => one.name)],
        severity: why === 'apart' ? 'error' : 'warning',
        confidence: why === 'apart' ? 'certain' : 'assumed',
        facts: { name, links, ends, why },
        at: mark(first, `link ${linkLabel(first)}`, 'aggregate'),
        others: [
          ...rest.map((link) => mark(link, `link ${linkLabel(link)}`, 'aggregate')),
          ...ends.flat().map((one) => mark(one, one.name, 'pair')),
        ],
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});

function keyOf(name: string, ends: Facts['ends']): string {
  return `${name} of ${ends
    .flat()
    .map((one) => one.name)
    .join(', ')}`;
}
