import { commonPractice, defineRule, mark, type Waiver, type WaiverUse } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/waiver-expired',
  summary: 'A waiver is past its last day',
  severity: 'warning',
  sources: [commonPractice('an exception ends on the day it says')],
  needs: [],
  stage: 'waivers',
  *check({ waivers }) {
    for (const [subject, expired] of bySubject(waivers)) {
      const sorted = [...expired].sort((a, b) => ((a.until ?? '') < (b.until ?? '') ? 1 : -1));
      const [latest, ...earlier] = sorted;
      if (latest === undefined) continue;
      yield {
        subject,
        parties: [],
        what: `the waiver of ${latest.rule} about \`${latest.about}\` held until ${latest.until ?? ''}, and the fault is still there`,
        at: mark(latest, `held until ${latest.until ?? ''}`, 'until'),
        others: earlier.map((waiver) => mark(waiver, `held until ${waiver.until ?? ''}`, 'until')),
        onAir: `what the waiver accepted goes on air unaccepted, unless another waiver covers it; the reason given was: ${latest.reason.trim().replace(/[.;,!]+$/, '')}`,
        fix: 'mend the fault now, or agree on a new last day and write it down',
        touch: { kind: 'plan', name: latest.origin.document.name },
      };
    }
  },
});

function bySubject(uses: readonly WaiverUse[]): ReadonlyMap<string, readonly Waiver[]> {
  const groups = new Map<string, Waiver[]>();
  for (const { waiver, state } of uses) {
    if (state !== 'expired') continue;
    const subject = `${waiver.rule}: ${waiver.about}`;
    const group = groups.get(subject);
    if (group === undefined) groups.set(subject, [waiver]);
    else group.push(waiver);
  }
  return groups;
}
