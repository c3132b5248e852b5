import { createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  clauseFromMemory,
  defineRule,
  inRig,
  mark,
  type Citation,
  type Mark,
} from '../../../src/doors/rule.js';
import { clockMark, clockTouch, settingFaults, type SettingFault } from '../../../src/doors/timing.js';
import { words, type Facts } from './words.js';

/** Of what key each clause of ST 2059-2 speaks. */
const ST_2059_2 = {
  delayMechanism: clause('SMPTE ST 2059-2', '6.6'),
  domain: clause('SMPTE ST 2059-2', '6.7.2'),
  mode: clause('SMPTE ST 2059-2', '6.10'),
  transport: clause('SMPTE ST 2059-2', '6.11'),
} as const;
const AES67 = clause('AES67-2018', 'Annex A');
const IEEE_1588 = clauseFromMemory('IEEE 1588-2008', 'J.3');

export default defineRule<Facts>({
  id: 'timing/setting-out-of-profile',
  summary: 'A domain or a clock is set to what its PTP profile does not admit',
  severity: 'error',
  sources: [...Object.values(ST_2059_2), AES67, IEEE_1588],
  needs: ['clocks', 'ptpProfiles'],
  brief: 'setting outside the profile',
  *check({ plan, model }) {
    const subjectOf = ({ key, value, number, rig }: SettingFault): string =>
      `${key} ${value} in domain ${number ?? ''}${inRig(rig)}`;
    for (const found of byLabel(settingFaults(plan, model.timing), subjectOf)) {
      const { key, value, admitted, known, number, profile, domain, clocks } = found;
      const [first] = clocks;
      const [at, ...others] = marksOf(found);
      if (at === undefined) continue;
      yield {
        subject: subjectOf(found),
        parties: [...(domain === undefined ? [] : [`domain ${number ?? ''}`]), ...clocks.map(({ name }) => name)],
        ...(known === 'read'
          ? { severity: 'error', confidence: 'certain' }
          : { severity: 'warning', confidence: 'likely' }),
        sources: [sourceOf(found)],
        cure: () => {
          const [usual] = admitted;
          if (key === 'domain' || usual === undefined) return peopleDecide('which domain number is free');
          const edits = createEditList();
          if (domain !== undefined) edits.set(domain, key, usual);
          setClocks(model, edits, clocks, { [key]: usual });
          return likely(edits);
        },
        facts: {
          key,
          value,
          admitted,
          profile: profile.title,
          domain: domain === undefined ? undefined : (number ?? domain.name ?? ''),
          clocks: clocks.map(({ name }) => name),
        },
        at,
        others,
        touch: first === undefined ? { kind: 'plan', name: 'timing' } : clockTouch(first),
      };
    }
  },
  words,
});

function sourceOf({ profile, key }: SettingFault): Citation {
  if (profile.key.startsWith('st2059')) return ST_2059_2[key];
  return profile.key.startsWith('aes') ? AES67 : IEEE_1588;
}

function marksOf({ key, domain, number, clocks }: SettingFault): readonly Mark<never>[] {
  const own = domain === undefined ? [] : [mark(domain, `domain ${number ?? ''}`, key === 'domain' ? 'number' : key)];
  return [...own, ...clocks.map((one) => clockMark(one, key))];
}
