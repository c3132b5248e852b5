import { createEditList, certainly, setClocks } from '../../../src/doors/cures.js';
import { clause, defineRule, groupBy, inRig, noted } from '../../../src/doors/rule.js';
import { clockMark, clockTouch, clocksByName, splitByTransport, type Clock } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/transport-mixed',
  summary: 'Clocks of one domain use different transports',
  severity: 'error',
  sources: [clause('IEEE 1588-2008', 'Annex D'), clause('SMPTE ST 2059-2', '6.11')],
  needs: ['clocks'],
  brief: 'transports mixed',
  harm: 'spoils',
  *check({ model }) {
    const { timing } = model;
    for (const { led, cut } of splitByTransport(timing)) {
      for (const [transport, clocks] of groupBy(clocksByName(cut), (one) => one.transport)) {
        const [first, ...rest] = clocks;
        const names = clocks.map(({ name }) => name);
        yield {
          subject: `${transport} in domain ${first.domain}${inRig(first.rig)}`,
          parties: names,
          cure: () => {
            const edits = createEditList();
            setClocks(model, edits, clocks, { transport: led });
            return certainly(edits);
          },
          facts: { clocks: names, transport, domain: first.domain, led },
          at: markOf(first),
          others: rest.map(markOf),
          touch: clockTouch(first),
        };
      }
    }
  },
  words,
});

function markOf(clock: Clock) {
  return noted(clockMark(clock, 'transport'), clock.transport);
}
