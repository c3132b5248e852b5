/** The library entry does what the command does, without the command line. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import {
  createModel,
  diffPlans,
  electClocks,
  findingText,
  lint,
  listFailures,
  load,
  mend,
  merge,
  readInputs,
  report,
  RULES,
  traceStream,
} from '../../src/index.js';

const PLAN = fileURLToPath(new URL('../../examples/first-plan.yaml', import.meta.url));
const TODAY = { today: '2026-06-01' };
const PAGE = { version: '0', width: 80, colour: false };

describe('the library', () => {
  it('reads, lints and reports', () => {
    const result = lint(load(readInputs([PLAN])), TODAY);
    expect(result.findings.map(({ rule }) => rule)).toEqual(['groups/two-senders']);
    expect(result.findings.map(({ facts }) => facts)).toMatchObject([{ group: '239.192.10.11', senders: 2 }]);
    expect(result.findings.map((one) => findingText(one).what).join()).toContain('239.192.10.11');
    expect(report.lint.text(result, PAGE)).toContain('239.192.10.11');
    expect(JSON.parse(report.lint.json(result, PAGE))).toHaveProperty('findings');
  });

  it('takes other rules than its own', () => {
    expect(lint(load(readInputs([PLAN])), { ...TODAY, rules: [] }).findings).toEqual([]);
    expect(RULES.length).toBeGreaterThan(50);
  });

  it('mends in memory: edits, why not, difference and texts', () => {
    const inputs = readInputs([PLAN]);
    const without = mend(inputs, TODAY);
    expect(without.left.map(({ finding, why }) => [finding.rule, why.kind])).toEqual([
      ['groups/two-senders', 'likely'],
    ]);
    expect([without.mended, without.files, report.mend.diff(without)]).toEqual([[], [], '']);
    const result = mend(inputs, { ...TODAY, likely: true });
    expect(result.mended.map(({ finding }) => finding.rule)).toEqual(['groups/two-senders']);
    const values = result.mended.flatMap(({ cure }) =>
      cure.certainty === 'people' ? [] : cure.edits.map(({ value }) => JSON.stringify(value).replaceAll('"', '')),
    );
    const [file, ...others] = result.files;
    expect(others).toEqual([]);
    // What is said to change is what changes, and the mended text is clean of it.
    const { before, after } = file ?? { before: undefined, after: undefined };
    expect(before?.content).toBe(readFileSync(PLAN, 'utf8'));
    const [text] = result.documents.map(({ content }) => content);
    expect(text).toBe(after?.content);
    expect(values.length).toBeGreaterThan(0);
    for (const value of values) {
      expect(text).toContain(value);
      expect(report.mend.diff(result)).toMatch(new RegExp(`^\\+.*${value.replaceAll('.', '\\.')}`, 'm'));
    }
    expect(lint(load({ inputs: [{ name: PLAN, text: String(text) }], problems: [] }), TODAY).findings).toEqual([]);
    expect(report.mend.text(result, PAGE)).toContain(report.mend.diff(result));
    expect(mend(inputs, { ...TODAY, rules: [] })).toMatchObject({ mended: [], left: [] });
  });

  it('judges nothing where an input is missing, and says which', () => {
    const result = lint(load(readInputs([PLAN, 'nowhere.yaml'])), TODAY);
    expect([result.findings, result.rulesRun]).toEqual([[], []]);
    expect(result.problems.map(({ at }) => at.file)).toEqual(['nowhere.yaml']);
    const merged = merge(
      [
        { from: 'a', ...readInputs([PLAN]) },
        { from: 'b', ...readInputs(['nowhere.yaml']) },
      ],
      TODAY,
    );
    expect([merged.joined, merged.problems.map(({ at }) => at.file)]).toEqual([undefined, ['nowhere.yaml']]);
  });

  it('answers what the commands answer, and tells of names that nobody has', () => {
    const loaded = load(readInputs([PLAN]));
    expect(traceStream(loaded, 'cam-start/video')).toMatchObject({ traces: [{}], problems: [] });
    expect(traceStream(loaded, 'cam-start/vido')).toEqual({ unknown: 'cam-start/vido', near: 'cam-start/video' });
    expect(listFailures(loaded, { lose: 'cam-star' })).toEqual({ unknown: 'cam-star', near: 'cam-start' });
    expect(electClocks(loaded)).toMatchObject({ problems: [], all: false });
    expect(diffPlans(loaded, loaded).comparison?.steps).toEqual([]);
  });

  it('gives the plan and the model for other uses', () => {
    const { plan, whole } = load(readInputs([PLAN]));
    expect(whole).toBe(true);
    expect(createModel(plan).groups.shared.map((use) => use.legs.map((leg) => leg.sender.label))).toEqual([
      ['cam-start/video', 'cam-finish/video'],
    ]);
  });
});
