import { byLabel, clause, commonPractice, defineRule, mark, noted, touchOf } from '../../../src/doors/rule.js';
import { frameFamilies } from '../../../src/doors/delay.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'odd'>({
  id: 'delay/frame-rate-families',
  summary: 'A rig has pictures of two frame rate families and no converter',
  severity: 'note',
  confidence: 'likely',
  people: 'whether a setting is wrong or a converter stands between',
  sources: [clause('ST 2110-20', '7.2'), commonPractice('one frame rate family to a rig')],
  needs: ['frameRates'],
  brief: 'two frame rate families',
  harm: 'spoils',
  *check({ plan }) {
    for (const { rig, families, converts } of frameFamilies(plan)) {
      if (converts) continue;
      const [odd, fewest] = families.reduce((a, b) => (b[1].length < a[1].length ? b : a));
      const senders = byLabel(fewest, ({ label }) => label);
      const [first, ...rest] = senders;
      yield {
        subject: `frame rates in rig ${rig.name}`,
        parties: fewest.map(({ label }) => label),
        facts: { rig: rig.name, families: families.map(([family]) => family), odd, senders },
        at: noted(mark(first, first.label, 'format'), 'odd'),
        others: rest.map((sender) => noted(mark(sender, sender.label, 'format'), 'odd')),
        touch: touchOf(first),
      };
    }
  },
  words,
});
