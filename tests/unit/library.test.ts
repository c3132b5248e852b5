/** The library entry does what the command does, without the command line. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { createModel, lint, loadPlan, readInputs, report, RULES, type Finding } from '../../src/index.js';

const PLAN = fileURLToPath(new URL('../../examples/first-plan.yaml', import.meta.url));

describe('the library', () => {
  it('reads, lints and reports', () => {
    const { inputs, problems } = readInputs([PLAN]);
    const result = lint(inputs, { today: '2026-06-01' }, problems);
    const [finding]: readonly Finding[] = result.findings;
    expect(finding?.rule).toBe('groups/two-senders');
    expect(report.text(result, { version: '0', width: 80, colour: false })).toContain('239.192.10.11');
    expect(JSON.parse(report.json(result, { version: '0', width: 80, colour: false }))).toHaveProperty('findings');
  });

  it('takes other rules than its own', () => {
    const { inputs } = readInputs([PLAN]);
    expect(lint(inputs, { today: '2026-06-01', rules: [] }).findings).toEqual([]);
    expect(RULES.length).toBeGreaterThan(50);
  });

  it('gives the plan and the model for other uses', () => {
    const { plan, whole } = loadPlan(readInputs([PLAN]).inputs);
    expect(whole).toBe(true);
    expect(createModel(plan).groups.shared.map((use) => use.legs.map((leg) => leg.sender.label))).toEqual([
      ['cam-start/video', 'cam-finish/video'],
    ]);
  });
});
