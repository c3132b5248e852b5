import {
  clause,
  defineRule,
  DETECTABLE,
  listNames,
  mark,
  outside,
  type Chain,
  type LipSyncDelay,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'delay/lip-sync',
  summary: 'Sound and picture arrive too far apart',
  severity: 'warning',
  sources: [clause('EBU R 37', 'output limits'), clause('ITU-R BT.1359-1', 'recommends 2')],
  needs: ['lipSync'],
  *check({ model, plan }) {
    if (plan.lipSyncs.length === 0) return;
    for (const one of model.delays.lipSyncs) {
      if (one.verdict !== 'outside-r37' && one.verdict !== 'outside-bt1359') continue;
      const { pair, picture, sound, leadNs } = one;
      const early = leadNs > 0;
      const by = milliseconds(Math.abs(leadNs));
      const worse = one.verdict === 'outside-bt1359';
      const tooSoon = early ? sound : picture;
      const first = tooSoon.hops.at(-1)?.sender;
      yield {
        subject: `lip sync ${pair.name} in rig ${pair.rig.name}`,
        parties: [...namesOf(picture), ...namesOf(sound), ...(pair.at === undefined ? [] : [pair.at.name])],
        severity: worse ? 'error' : 'warning',
        what:
          `sound of ${pair.name} comes ${least(one)}${by} ${early ? 'before' : 'after'} its picture ` +
          `at ${pair.at?.name ?? ''}: picture ${milliseconds(picture.totalNs)}, sound ${milliseconds(sound.totalNs)}; ` +
          `allowed is ${limits(worse)}`,
        at: mark(pair, `${pair.name}: sound ${by} ${early ? 'early' : 'late'}`),
        others: [...picture.hops, ...sound.hops].map(({ sender }) => mark(sender, sender.label)),
        onAir: outside(DETECTABLE, leadNs)
          ? 'viewers see that lips and sound do not go together, all the time'
          : 'hardly seen by itself, but nothing is left for what comes after, and then it is seen',
        sources: worse ? [clause('ITU-R BT.1359-1', 'recommends 2')] : [clause('EBU R 37', 'output limits')],
        fix:
          `delay ${early ? 'sound' : 'the picture'} by ${by}, best where ${first?.label ?? 'it'} leaves, ` +
          `or take the delay out of ${listNames(namesOf(early ? picture : sound))}`,
        touch:
          first?.device === undefined ? { kind: 'plan', name: 'timing' } : { kind: 'device', name: first.device.name },
      };
    }
  },
});

function namesOf({ hops }: Chain): readonly string[] {
  return hops.map(({ sender }) => sender.label);
}

function least({ pictureGaps, soundGaps }: LipSyncDelay): string {
  return pictureGaps.length + soundGaps.length > 0 ? 'at least ' : '';
}

function limits(worse: boolean): string {
  return worse ? '90 ms before to 185 ms after at the very most' : '40 ms before to 60 ms after';
}

function milliseconds(ns: number): string {
  return `${Number((ns / 1e6).toFixed(1))} ms`;
}
