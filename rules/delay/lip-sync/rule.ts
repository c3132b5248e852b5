import { clause, defineRule, lastOf, mark, noted } from '../../../src/doors/rule.js';
import { DETECTABLE, outside, restsOnUsual } from '../../../src/doors/delay.js';
import { words, type Facts } from './words.js';

const R37 = clause('EBU R 37', 'output limits');
const BT1359 = clause('ITU-R BT.1359-1', 'recommends 2');

export default defineRule<Facts, 'lead'>({
  id: 'delay/lip-sync',
  summary: 'Sound and picture arrive too far apart',
  severity: 'warning',
  people: 'which box delays the earlier of the two',
  sources: [R37, BT1359],
  needs: ['lipSync'],
  brief: 'sound and picture too far apart',
  harm: 'spoils',
  *check({ model, plan }) {
    if (plan.lipSyncs.length === 0) return;
    for (const { pair, at, picture, sound, leadNs, pictureGaps, soundGaps, verdict } of model.delays.lipSyncs) {
      if (verdict !== 'outside-r37' && verdict !== 'outside-bt1359') continue;
      const isWorse = verdict === 'outside-bt1359';
      const [early, late] = leadNs > 0 ? [sound, picture] : [picture, sound];
      const { sender } = lastOf(early.hops);
      const streams = [...picture.hops, ...sound.hops].map((hop) => hop.sender);
      yield {
        subject: `lip sync ${pair.name} in rig ${pair.rig.name}`,
        parties: [...streams.map(({ label }) => label), at.name],
        severity: isWorse ? 'error' : 'warning',
        confidence: [picture, sound].some(restsOnUsual) ? 'likely' : 'certain',
        facts: {
          pair: pair.name,
          at: at.name,
          leadNs,
          isLeast: pictureGaps.length + soundGaps.length > 0,
          pictureNs: picture.totalNs,
          soundNs: sound.totalNs,
          limit: isWorse ? 'ITU-R BT.1359-1' : 'EBU R 37',
          isSeen: outside(DETECTABLE, leadNs),
          last: sender,
          late: late.hops.map((hop) => hop.sender),
        },
        at: noted(mark(pair, pair.name), 'lead'),
        others: streams.map((one) => mark(one, one.label)),
        sources: [isWorse ? BT1359 : R37],
        touch:
          sender.device === undefined ? { kind: 'plan', name: 'timing' } : { kind: 'device', name: sender.device.name },
      };
    }
  },
  words,
});
