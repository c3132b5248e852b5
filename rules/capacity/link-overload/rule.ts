import { clause, commonPractice, defineRule } from '../../../src/doors/rule.js';
import { fullLinkFindings, type RateNote } from '../../../src/doors/capacity.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, RateNote>({
  id: 'capacity/link-overload',
  summary: 'A link carries more than it has room for',
  severity: 'error',
  people: 'what goes off the link, or which rate it gets',
  sources: [
    clause('RFC 4541', '2.1.2'),
    clause('ST 2110-21', '6.3'),
    commonPractice('media fills a link to no more than 80 or 90 %'),
  ],
  needs: ['formats', 'switchPorts', 'links', 'linkRates'],
  brief: 'too full',
  harm: { error: 'spoils', warning: 'later' },
  thresholds: { percent: { default: 90, what: 'share of a link that streams may fill, in percent' } },
  check: ({ plan, model, threshold }) => fullLinkFindings(plan, model, (rig) => threshold('percent', rig), 'own'),
  words,
});
