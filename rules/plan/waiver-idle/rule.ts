import {
  byLabel,
  commonPractice,
  defineRule,
  mark,
  type WordedDraft,
  type Waiver,
  type WaiverUse,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'plan/waiver-idle',
  summary: 'A waiver that accepts nothing',
  severity: 'note',
  sources: [commonPractice('an exception ends with its reason')],
  needs: [],
  stage: 'waivers',
  *check({ waivers }) {
    for (const [subject, idle] of bySubject(waivers))
      yield finding(
        subject,
        byLabel(idle, (waiver) => waiver.reason),
      );
  },
});

function finding(subject: string, idle: readonly Waiver[]): WordedDraft {
  const [first, ...rest] = idle;
  if (first === undefined) throw new Error('a group has a waiver');
  const narrow = idle.every((waiver) => waiver.parties !== undefined);
  return {
    subject,
    parties: [],
    what: `no finding of ${first.rule} about \`${first.about}\`${narrow ? ' with these parties' : ''} is there to accept`,
    at: mark(first, `waiver of ${first.rule}`, 'about'),
    others: rest.map((waiver) => mark(waiver, `waiver of ${waiver.rule}`, 'about')),
    onAir: 'nothing now; but should the fault come back, for another reason, the waiver hides it',
    fix: `take the waiver out, or copy \`about\`${narrow ? ' and `parties`' : ''} from the report if another finding was meant`,
    touch: { kind: 'plan', name: first.origin.document.name },
  };
}

function bySubject(uses: readonly WaiverUse[]): ReadonlyMap<string, readonly Waiver[]> {
  const groups = new Map<string, Waiver[]>();
  for (const { waiver, state } of uses) {
    if (state !== 'idle') continue;
    const subject = `${waiver.rule}: ${waiver.about}`;
    const group = groups.get(subject);
    if (group === undefined) groups.set(subject, [waiver]);
    else group.push(waiver);
  }
  return groups;
}
