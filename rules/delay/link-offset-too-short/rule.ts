import { createEditList, likely } from '../../../src/doors/cures.js';
import { clause, defineRule, mark, noted } from '../../../src/doors/rule.js';
import { shortLinkOffsets } from '../../../src/doors/delay.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'delay/link-offset-too-short',
  summary: 'The link offset is shorter than sound takes to arrive, or holds too few packets',
  severity: 'error',
  sources: [clause('AES67-2018', '7.5')],
  needs: ['linkOffset'],
  brief: 'shorter than sound takes to arrive',
  harm: 'spoils',
  *check({ model, plan }) {
    if (!plan.mediaTimings.some((one) => one.linkOffsetNs !== undefined)) return;
    for (const { timing, offsetNs, usual, late, receivers, senders, worst, enoughNs } of shortLinkOffsets(
      model.delays,
    )) {
      const form = late ? 'arrival' : 'buffer';
      yield {
        subject: `${form} in rig ${timing.rig.name}`,
        parties: [...receivers, ...senders].map(({ label }) => label),
        severity: late ? 'error' : 'warning',
        confidence: usual ? 'likely' : 'certain',
        cure: () => {
          const edits = createEditList();
          edits.set(timing, 'linkOffset', `${Math.ceil(enoughNs / 1e6)} ms`);
          return likely(edits);
        },
        facts: {
          form,
          offsetNs,
          receivers,
          worst: { sender: worst.sender, needNs: worst.needNs, packetNs: worst.packetNs },
          enoughNs,
        },
        at: noted(mark(timing, 'link offset', 'linkOffset'), 'offset'),
        others: senders.map((sender) => noted(mark(sender, sender.label), 'stream')),
        touch: { kind: 'plan', name: 'timing' },
      };
    }
  },
  words,
});
