import { createEditList, certainly, likely, setClocks, type EditList } from '../../../src/doors/cures.js';
import { clauseFromMemory, commonPractice, defineRule, inRig, noted, type Model } from '../../../src/doors/rule.js';
import {
  clockMark,
  clockTouch,
  domainCrossings,
  unplannedDomains,
  type Clock,
  isEndDevice,
  mayLead,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/domain-differs',
  summary: 'A device is in another PTP domain than it should be',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 1588-2008', '7.1'), commonPractice('one PTP domain for all media of a rig')],
  needs: ['clocks'],
  brief: 'in another PTP domain',
  harm: 'spoils',
  *check({ plan, model }) {
    const { timing } = model;
    const unplanned = unplannedDomains(plan, timing);
    for (const { clocks, domain, rig, planned } of unplanned) {
      const [first, ...rest] = clocks;
      const names = clocks.map(({ name }) => name);
      yield {
        subject: `domain ${domain}${inRig(rig)}`,
        parties: names,
        cure: () => {
          const edits = createEditList();
          const [wanted] = planned;
          if (wanted !== undefined && planned.length === 1) setDomain(model, edits, clocks, wanted);
          return certainly(edits, 'which of the planned domains is meant');
        },
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
        cure: () => {
          const edits = createEditList();
          setDomain(model, edits, few, to);
          return likely(edits);
        },
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

/** End devices come as followers: nobody has planned them to lead where others do. */
function setDomain(model: Model, edits: EditList, clocks: readonly Clock[], domain: number): void {
  const able = clocks.filter((one) => isEndDevice(one) && mayLead(one) && !one.meantToLead);
  setClocks(model, edits, able, { domain, slaveOnly: true });
  setClocks(
    model,
    edits,
    clocks.filter((one) => !able.includes(one)),
    { domain },
  );
}
