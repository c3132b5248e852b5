import { clause, commonPractice, defineRule, mapAll, noted, type Citation } from '../../../src/doors/rule.js';
import { clockMark, clockTouch, islandSubject, misleadingClaims, settledIslands } from '../../../src/doors/timing.js';
import { words, type ClaimFault, type Facts } from './words.js';

const CLASSES = clause('IEEE 1588-2008', '7.6.2.4');
const ACCURACY = clause('SMPTE ST 2059-2', '6.7.4');
const EPOCH = commonPractice('time stamps of ST 2110 and AES67 count from the epoch of PTP');

const SOURCES: Readonly<Record<ClaimFault, readonly Citation[]>> = {
  untraceable: [CLASSES],
  'own epoch': [CLASSES, EPOCH],
  accuracy: [ACCURACY],
};

const KEYS: Readonly<Record<ClaimFault, string>> = {
  untraceable: 'traceable',
  'own epoch': 'clockClass',
  accuracy: 'clockAccuracy',
};

export default defineRule<Facts, ClaimFault>({
  id: 'timing/claim-misleads',
  summary: 'A grandmaster says of itself what its time does not hold',
  severity: 'warning',
  people: 'what the clock is locked to',
  sources: [CLASSES, ACCURACY, EPOCH],
  needs: ['clocks', 'grandmasters'],
  brief: 'grandmaster claims wrongly',
  harm: 'spoils',
  *check({ plan, model }) {
    for (const island of settledIslands(model.timing)) {
      for (const { fault, clocks, isDemanded } of misleadingClaims(plan, island)) {
        const [first, ...others] = clocks;
        yield {
          subject: `${fault} in ${islandSubject(island)}`,
          parties: clocks.map(({ name }) => name),
          severity: fault === 'accuracy' && !isDemanded ? 'note' : 'warning',
          sources: SOURCES[fault],
          facts: {
            fault,
            domain: first.domain,
            clocks: mapAll(clocks, ({ name }) => name),
            clockClass: first.quality.clockClass,
          },
          at: noted(clockMark(first, KEYS[fault]), fault),
          others: others.map((one) => noted(clockMark(one, KEYS[fault]), fault)),
          touch: clockTouch(first),
        };
      }
    }
  },
  words,
});
