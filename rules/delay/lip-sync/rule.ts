import { clause, defineRule, DETECTABLE, mark, noted, outside, type Chain } from '../../../src/lint/rule.js';
import { words, type Facts } from './words.js';

const R37 = clause('EBU R 37', 'output limits');
const BT1359 = clause('ITU-R BT.1359-1', 'recommends 2');

export default defineRule<Facts, number>({
  id: 'delay/lip-sync',
  summary: 'Sound and picture arrive too far apart',
  severity: 'warning',
  sources: [R37, BT1359],
  needs: ['lipSync'],
  *check({ model, plan }) {
    if (plan.lipSyncs.length === 0) return;
    for (const { verdict, pair, picture, sound, leadNs, pictureGaps, soundGaps } of model.delays.lipSyncs) {
      if (verdict !== 'outside-r37' && verdict !== 'outside-bt1359') continue;
      const worse = verdict === 'outside-bt1359';
      const early = leadNs > 0;
      const first = (early ? sound : picture).hops.at(-1)?.sender;
      yield {
        subject: `lip sync ${pair.name} in rig ${pair.rig.name}`,
        parties: [...namesOf(picture), ...namesOf(sound), ...(pair.at === undefined ? [] : [pair.at.name])],
        severity: worse ? 'error' : 'warning',
        facts: {
          pair: pair.name,
          receivedAt: pair.at?.name ?? '',
          leadNs,
          atLeast: pictureGaps.length + soundGaps.length > 0,
          pictureNs: picture.totalNs,
          soundNs: sound.totalNs,
          limits: worse ? 'bt1359' : 'r37',
          detectable: outside(DETECTABLE, leadNs),
          delayAt: first,
          slow: (early ? picture : sound).hops.map(({ sender }) => sender),
        },
        at: noted(mark(pair, pair.name), leadNs),
        others: [...picture.hops, ...sound.hops].map(({ sender }) => mark(sender, sender.label)),
        sources: [worse ? BT1359 : R37],
        touch:
          first?.device === undefined ? { kind: 'plan', name: 'timing' } : { kind: 'device', name: first.device.name },
      };
    }
  },
  words,
});

function namesOf({ hops }: Chain): readonly string[] {
  return hops.map(({ sender }) => sender.label);
}
