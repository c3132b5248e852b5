/** A finding reads the same however the plan is ordered: every bad example with its lists turned round says the same. */
import { worded } from '../tools/worded.js';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import { loadRule, read, ruleFolders } from './load.js';

const FOLDERS = ruleFolders();
const RULES = await Promise.all(FOLDERS.map(loadRule));
const LISTS = ['networks', 'vlans', 'switches', 'links', 'joins', 'formats', 'kinds', 'devices', 'streams'];

describe.each(FOLDERS)('$id', (folder) => {
  const examples = folder.files.filter((file) => /^bad(-[a-z0-9-]+)?\.yaml$/.test(file));

  it.each(examples)('%s says the same turned round', (file) => {
    const plan = load(read(folder, file)) as Readonly<Record<string, unknown>>;
    const turned = Object.fromEntries(
      Object.entries(plan).map(([key, value]) => [
        key,
        LISTS.includes(key) && Array.isArray(value) ? value.toReversed() : value,
      ]),
    );
    const stem = file.replace(/\.yaml$/, '');
    const beside = folder.files
      .filter((other) => other.startsWith(`${stem}.beside.`))
      .map((name) => ({ name, text: read(folder, name) }));
    const say = (one: object): readonly string[] => {
      const result = lintInputs([{ name: `${stem}.json`, text: JSON.stringify(one) }, ...beside], RULES, {
        today: '2026-06-01',
      });
      expect(result.crashed).toEqual([]);
      return result.findings
        .map(worded)
        .map(({ severity, subject, what, onAir, fix, parties, touch }) =>
          JSON.stringify({ severity, subject, what, onAir, fix, parties, touch }),
        )
        .toSorted();
    };
    const straight = say(plan);
    expect(straight.length).toBeGreaterThan(0);
    expect(say(turned)).toEqual(straight);
  });
});
