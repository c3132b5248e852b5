/** Cures carried out: which stay, which are left out and why, and the difference that is shown. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { drawUnified } from '../../src/draw/unified.js';
import { createEditList } from '../../src/edits/edit-list.js';
import { likely, certainly } from '../../src/edits/cure.js';
import { commonPractice } from '../../src/lint/citation.js';
import { mark } from '../../src/lint/marks.js';
import { defineRule, type Rule } from '../../src/lint/rule.js';
import { mendPlan, type MendOptions, type MendResult } from '../../src/mend/mend.js';
import { hunksOf } from '../../src/report/mend/hunks.js';
import { mendJson } from '../../src/report/mend/json.js';
import { reportMendText } from '../../src/reporters/mend.js';

const TODAY = '2026-06-01';
const SLIP = `rig: Heron
conventions:
  legMap:
    groups: [{first: 239.192.0.0/16, second: 239.193.0.0/16}]
networks:
  - {name: red, leg: 1}
  - {name: blue, leg: 2}
devices:
  - name: cam-finish
    interfaces: [{name: red, network: red}, {name: blue, network: blue}]
    senders: # a slip in the last number
      - {name: video, legs: [{interface: red, group: 239.192.10.31}, {interface: blue, group: 239.193.10.13}]} # keep
`;

function mend(text: string, options: Partial<MendOptions> = {}, rules: readonly Rule[] = RULES): MendResult {
  const inputs = [{ name: 'plan.yaml', text }];
  return mendPlan({ inputs, problems: [] }, rules, { today: TODAY, ...options });
}

describe('mend', () => {
  it('changes the characters of the value alone', () => {
    const { mended, files, after } = mend(SLIP);
    expect(mended.map(({ finding }) => finding.rule)).toEqual(['groups/leg-map']);
    expect(files.map((file) => file.after.content)).toEqual([SLIP.replace('239.193.10.13', '239.193.10.31')]);
    expect(after?.findings).toEqual([]);
  });

  it('leaves likely cures alone until asked', () => {
    const twice = `rig: Heron
devices:
  - {name: a, interfaces: [{name: lan}], senders: [{name: v, legs: [{interface: lan, group: 239.192.1.1}]}]}
  - {name: b, interfaces: [{name: lan}], senders: [{name: v, legs: [{interface: lan, group: 239.192.1.1}]}]}
`.replaceAll('{name: lan}', '{name: lan, vlan: red}');
    const plan = `${twice}vlans: [{name: red}]\n`;
    expect(mend(plan).left.map(({ why }) => why.kind)).toContain('likely');
    expect(mend(plan, { likely: true }).mended.map(({ finding }) => finding.rule)).toContain('groups/two-senders');
  });

  it('mends nothing of a plan that can not be read', () => {
    const result = mend('devices: [{name: 1');
    expect(result.after).toBeUndefined();
    expect(result.mended).toEqual([]);
    expect(reportMendText(result, { version: '1', width: 80, colour: false })).toContain('could not be judged whole');
  });

  const wrong = (id: string, value: string, sure: typeof likely): Rule =>
    defineRule({
      id,
      summary: 'a test',
      severity: 'error',
      sources: [commonPractice('test')],
      needs: [],
      *check({ plan }) {
        for (const network of plan.networks)
          if (network.name === 'red')
            yield {
              subject: network.name,
              facts: {},
              at: mark(network, network.name, 'name'),
              touch: { kind: 'network', name: network.name },
              cure: () => {
                const edits = createEditList();
                edits.set(network, 'name', value);
                return sure(edits);
              },
            };
      },
      words: () => ({ what: 'it is red', onAir: 'nothing', fix: 'another name' }),
    });

  it('leaves out a cure that contradicts one that is surer, and names it', () => {
    const { mended, left } = mend('networks: [{name: red}]\n', { likely: true }, [
      wrong('t/one', 'blue', likely),
      wrong('t/two', 'green', certainly),
    ]);
    expect(mended.map(({ finding }) => finding.rule)).toEqual(['t/two']);
    expect(left.map(({ finding, why }) => [finding.rule, why.kind])).toEqual([['t/one', 'clashes']]);
  });

  it('refuses a cure that leaves its finding, or brings another, and keeps the rest', () => {
    const { mended, left } = mend(SLIP.replace('red, leg', 'red, leg'), {}, [
      ...RULES,
      wrong('t/three', 'green', certainly),
    ]);
    expect(mended.map(({ finding }) => finding.rule)).toEqual(['groups/leg-map']);
    // The interface still names the network that has lost its name.
    expect(left.map(({ finding, why }) => [finding.rule, why.kind])).toEqual([['t/three', 'unsound']]);
  });

  it('says what it did in the shape of its schema', () => {
    const schema = JSON.parse(
      readFileSync(new URL('../../schemas/mend.schema.json', import.meta.url), 'utf8'),
    ) as object;
    const validate = new Ajv({ strict: false }).compile(schema);
    for (const text of [SLIP, 'devices: [{name: 1']) {
      validate(JSON.parse(JSON.stringify(mendJson(mend(text), '1'))));
      expect(validate.errors).toBeNull();
    }
  });
});

// POSIX.1-2017 describes the form; GNU patch reads it.
describe.runIf(hasPatch())('the difference, as `patch` takes it,', () => {
  const cases: readonly (readonly [string, string, readonly { start: number; end: number; text: string }[]])[] = [
    ['a value', 'a: 1\nb: 2\nc: 3\n', [{ start: 8, end: 9, text: '5' }]],
    [
      'two places far apart',
      `${'x\n'.repeat(20)}y\n`,
      [
        { start: 0, end: 1, text: 'n' },
        { start: 40, end: 41, text: 'z' },
      ],
    ],
    ['lines that come', 'a: 1\nb: 2\n', [{ start: 4, end: 4, text: '\nc: 3' }]],
    ['a line that goes', 'a: 1\nb: 2\nc: 3\n', [{ start: 4, end: 9, text: '' }]],
    ['a text without an end of line', 'a: 1\nb: 2', [{ start: 8, end: 9, text: '5' }]],
    ['a text that gets its first line', '', [{ start: 0, end: 0, text: 'a: 1\n' }]],
  ];

  it.each(cases)('gives %s', (_, text, splices) => {
    const folder = mkdtempSync(join(tmpdir(), 'difference-'));
    try {
      const file = join(folder, 'plan.yaml');
      writeFileSync(file, text);
      const difference = drawUnified([{ name: 'plan.yaml', hunks: hunksOf(text, splices) }]);
      execFileSync('patch', ['-p0', '--silent'], { cwd: folder, input: difference });
      let wanted = '';
      let at = 0;
      for (const { start, end, text: now } of splices) {
        wanted += text.slice(at, start) + now;
        at = end;
      }
      expect(readFileSync(file, 'utf8')).toBe(wanted + text.slice(at));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

function hasPatch(): boolean {
  try {
    execFileSync('patch', ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
