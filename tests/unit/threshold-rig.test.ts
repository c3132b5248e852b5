/** A threshold belongs to its rig: what one rig promises itself judges nobody else, in whatever order files are read. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lint, load } from '../../src/engine.js';
import { findingText } from '../../src/lint/finding.js';

const ROOT = fileURLToPath(new URL('../../rules', import.meta.url));
const OTHER = 'Dunlin-beside';

/** What a rule finds in some texts, first ones first. */
function found(id: string, texts: readonly string[]): readonly string[] {
  const rules = RULES.filter((rule) => rule.id === id);
  const inputs = texts.map((text, index) => ({ name: `part-${index}.yaml`, text }));
  const { findings, crashed } = lint(load({ inputs, problems: [] }), { today: '2026-06-01', rules });
  expect(crashed).toEqual([]);
  return findings.map((one) => `${one.severity} ${one.subject}: ${findingText(one).what}`).sort();
}

const conventions = (key: string, value: number): string => `conventions: {thresholds: {${key}: ${value}}}\n`;
/** So little, and so much, that one of them turns any judgement round. */
const EXTREMES = [0.001, 1_000_000_000];

const cases = RULES.flatMap(({ id, thresholds }) =>
  Object.keys(thresholds ?? {}).map((name) => ({ id, key: `${id}.${name}` })),
);

describe.each(cases)('$key', ({ id, key }) => {
  const examples = readdirSync(`${ROOT}/${id}`)
    .filter((file) => /^bad[^.]*\.yaml$/.test(file))
    .map((file) => readFileSync(`${ROOT}/${id}/${file}`, 'utf8'))
    .filter((text) => !/^conventions:/m.test(text));

  it('of another rig changes nothing', () => {
    expect(examples.length).toBeGreaterThan(0);
    for (const text of examples) {
      const alone = found(id, [text, `rig: ${OTHER}\n`]);
      for (const value of EXTREMES) {
        const other = `rig: ${OTHER}\n${conventions(key, value)}`;
        expect(found(id, [text, other])).toEqual(alone);
        expect(found(id, [other, text])).toEqual(alone);
      }
    }
  });

  it('of its own rig decides', () => {
    const turned = examples.some((text) => {
      const rig = /^rig:.*\n/m.exec(text)?.[0] ?? '';
      const alone = found(id, [text]).join('\n');
      return EXTREMES.some((value) => found(id, [text, rig + conventions(key, value)]).join('\n') !== alone);
    });
    expect(turned).toBe(true);
  });
});
