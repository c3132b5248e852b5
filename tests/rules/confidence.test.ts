/**
 * A finding is `certain` where all it rests on is stated or set by a standard, and `likely` where a habit makes it a fault.
 * Two habits can be taken away: a part kept free by default, and a packet time nobody states.
 */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { NO_PROFILE } from '../../src/lint/profile.js';
import { loadRule, read, ruleFolders, type RuleFolder } from './load.js';

const FOLDERS = ruleFolders('capacity,delay,subnets');
const RULES = await Promise.all(FOLDERS.map(loadRule));
const examples = ({ files }: RuleFolder): readonly string[] => files.filter((file) => /^bad[^.]*\.yaml$/.test(file));

function found(id: string, text: string, thresholds: Readonly<Record<string, number>> = {}): readonly Finding[] {
  const rules = RULES.filter((rule) => rule.id === id);
  const profile = { ...NO_PROFILE, thresholds };
  return lintInputs([{ name: 'bad.yaml', text }], rules, { today: '2026-06-01', profile }).findings;
}

const filling = FOLDERS.filter((_, index) => {
  const rule = RULES[index];
  return rule?.thresholds?.['percent'] !== undefined && rule.sources.some((one) => 'practice' in one);
}).map((folder) => [folder.id, folder] as const);

/** The least that is more than all: what is just full, a subnet for one, still holds. */
const OVER_PERCENT = 100.0001;

describe('too full only because some is kept free', () => {
  it.each(filling)('is not certain: %s', (id, folder) => {
    for (const file of examples(folder)) {
      const text = read(folder, file);
      const full = new Set(found(id, text, { [`${id}.percent`]: OVER_PERCENT }).map(({ subject }) => subject));
      for (const { subject, confidence } of found(id, text))
        expect(confidence, `${file}: ${subject}`).not.toBe(full.has(subject) ? 'likely' : 'certain');
    }
  });
});

const delays = FOLDERS.filter(({ id }) => id.startsWith('delay/')).flatMap((folder) =>
  examples(folder)
    .filter((file) => read(folder, file).includes(', packetTime: 1 ms'))
    .map((file) => [`${folder.id} ${file}`, folder.id, read(folder, file)] as const),
);

describe('a delay with a usual packet time', () => {
  it.each(delays)('is likely, and no less a fault: %s', (_, id, text) => {
    const stated = found(id, text);
    const usual = found(id, text.replace(', packetTime: 1 ms', ''));
    // Without a packet time nobody can say how many of them an offset holds.
    const judged = stated.filter(({ subject }) => !subject.startsWith('buffer '));
    expect(usual.map(({ subject, severity }) => [subject, severity])).toEqual(
      judged.map(({ subject, severity }) => [subject, severity]),
    );
    for (const { confidence } of usual) expect(confidence).toBe('likely');
  });
});
