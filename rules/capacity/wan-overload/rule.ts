import { clause, commonPractice, defineRule } from '../../../src/doors/rule.js';
import { fullLinkFindings, type RateNote } from '../../../src/doors/capacity.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, RateNote>({
  id: 'capacity/wan-overload',
  summary: 'A circuit carries more than its contracted rate',
  severity: 'error',
  people: 'what is contracted, or what is not sent',
  sources: [
    clause('RFC 4541', '2.1.2'),
    commonPractice('a provider drops what exceeds the contracted rate, and bursts above it'),
  ],
  needs: ['formats', 'switchPorts', 'circuits'],
  brief: 'above its contracted rate',
  harm: { error: 'spoils', warning: 'later' },
  thresholds: { percent: { default: 90, what: 'share of a circuit that streams may fill, in percent' } },
  check: ({ plan, model, threshold }) => fullLinkFindings(plan, model, (rig) => threshold('percent', rig), 'circuits'),
  words,
});
