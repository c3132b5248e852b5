import { clauseFromMemory, commonPractice, defineRule, inRig, noted } from '../../../src/doors/rule.js';
import { clockMark, clockTouch, domainCrossings, unplannedDomains, type Clock } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/domain-differs',
  summary: 'A device is in another PTP domain than it should be',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '7.1'), commonPractice('one PTP domain for all media of a rig')],
  needs: ['clocks'],
  brief: 'in another PTP domain',
  harm: 'spoils',
  *check({ plan, model: { timing } }) {
    const unplanned = unplannedDomains(plan, timing);
    for (const { clocks, domain, rig, planned } of unplanned) {
      const [first, ...rest] = clocks;
      const names = clocks.map(({ name }) => name);
      yield {
        subject: `domain ${domain}${inRig(rig)}`,
        parties: names,
        facts: { form: 'unplanned', clocks: names, domain, planned },
        at: markOf(first),
        others: rest.map(markOf),
        touch: clockTouch(first),
      };
    }
    for (const { low, high, clocks, streams, few, to } of domainCrossings(plan, timing, unplanned)) {
      const [first] = few;
      yield {
        subject: `domains ${low} and ${high}`,
        parties: clocks.map(({ name }) => name),
        facts: { form: 'crossed', low, high, streams, few: few.map(({ name }) => name), to },
        at: markOf(first),
        others: clocks.filter((one) => one !== first).map(markOf),
        touch: clockTouch(first),
      };
    }
  },
  words,
});

function markOf(clock: Clock) {
  return noted(clockMark(clock, 'domain'), { domain: clock.domain });
}
