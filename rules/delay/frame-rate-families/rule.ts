import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  frameFamilies,
  isNonEmpty,
  mapAll,
  mark,
  noted,
  touchOf,
} from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'delay/frame-rate-families',
  summary: 'A rig has pictures of two frame rate families and no converter',
  severity: 'note',
  sources: [clause('ST 2110-20', '7.2'), commonPractice('one frame rate family to a rig')],
  needs: ['frameRates'],
  *check({ plan }) {
    for (const { rig, senders, converts } of frameFamilies(plan)) {
      if (converts) continue;
      const families = [...senders].sort(([a], [b]) => Number(a) - Number(b));
      const [family, fewest] = families.reduce((a, b) => (b[1].length < a[1].length ? b : a));
      const odd = byLabel(fewest, ({ label }) => label);
      if (!isNonEmpty(odd)) continue;
      const [at, ...others] = mapAll(odd, (sender) => noted(mark(sender, sender.label, 'format'), family));
      yield {
        subject: `frame rates in rig ${rig.name}`,
        parties: odd.map(({ label }) => label),
        facts: { rig: rig.name, families: families.map(([name]) => name), family, senders: odd },
        at,
        others,
        touch: touchOf(odd[0]),
      };
    }
  },
  words,
});
