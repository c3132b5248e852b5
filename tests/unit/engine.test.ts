/** The engine: severities, waivers, baselines, missing facts, rules that throw, order. */
import { describe, expect, it } from 'vitest';
import { applyBaseline, baselineOf, formatBaseline } from '../../src/lint/baseline.js';
import type { Profile } from '../../src/lint/profile.js';
import { readBaseline } from '../../src/profile/read-baseline.js';
import { findingText } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { mark } from '../../src/lint/marks.js';
import { defineRule, type Rule } from '../../src/lint/rule.js';
import type { LintResult } from '../../src/lint/result.js';
import type { LintOptions } from '../../src/lint/run.js';
import { notJudgedWords } from '../../src/report/lint/not-judged.js';

/** Reports every device whose name starts with `x`. */
const named = defineRule<{ readonly name: string }>({
  id: 'test/named-x',
  summary: 'A device is named x',
  severity: 'warning',
  sources: [{ practice: 'test' }],
  needs: ['devices'],
  thresholds: { least: { default: 1, what: 'least length of a name' } },
  *check({ plan, threshold }) {
    for (const device of plan.devices) {
      if (!device.name.startsWith('x') || device.name.length < threshold('least', device.rig)) continue;
      yield {
        subject: device.name,
        parties: [device.name],
        facts: { name: device.name },
        at: mark(device, device.name, 'name'),
        touch: { kind: 'device', name: device.name },
      };
    }
  },
  words: ({ name }) => ({ what: `${name} is named x`, onAir: 'nothing', fix: 'rename it' }),
});

const throwing = defineRule({
  ...named,
  id: 'test/throws',
  check: () => {
    throw new Error('broken on purpose');
  },
});
const waiting = defineRule({ ...named, id: 'test/waits', needs: ['macs'] });
const optionalWaiting = defineRule({ ...named, id: 'test/waits-optional', needs: ['unicast'] });

const PLAN = 'rig: Heron\ndevices:\n  - name: x2\n  - name: cam-1\n  - name: x1\n';

function run(text: string, rules: readonly Rule[] = [named], options: Partial<LintOptions> = {}): LintResult {
  return lintInputs([{ name: 'plan.yaml', text }], rules, { today: '2026-06-01', ...options });
}

const profile = (part: Partial<Profile>): Profile => ({ severity: {}, thresholds: {}, ...part });

describe('findings', () => {
  it('stand even where their rule has no words for them, and say so', () => {
    const speechless = defineRule({
      ...named,
      id: 'test/speechless',
      words: () => {
        throw new Error('no words');
      },
    });
    const result = run('rig: Heron\ndevices: [{name: x1}]\n', [speechless]);
    expect(result.crashed).toEqual([]);
    expect(result.findings.map((one) => findingText(one).what)).toEqual([
      "test/speechless found something about x1 and can't word it: no words",
    ]);
  });

  it('carry what the engine knows, in the order of lines', () => {
    const { findings } = run(PLAN);
    expect(findings.map((one) => [one.rule, one.severity, one.subject, one.at.line, one.at.column])).toEqual([
      ['test/named-x', 'warning', 'x2', 3, 11],
      ['test/named-x', 'warning', 'x1', 5, 11],
    ]);
  });

  it('are the same set whatever the order of devices and files', () => {
    const parts = ['devices: [{name: x1}]\n', 'devices: [{name: x2}]\n', 'devices: [{name: cam-1}]\n'];
    const sets = [
      [0, 1, 2],
      [2, 1, 0],
      [1, 2, 0],
    ].map((order) => {
      const result = lintInputs(
        order.map((index) => ({ name: `${index}.yaml`, text: parts[index] ?? '' })),
        [named],
        { today: '2026-06-01' },
      );
      return result.findings.map((one) => one.subject).sort();
    });
    expect(sets).toEqual([
      ['x1', 'x2'],
      ['x1', 'x2'],
      ['x1', 'x2'],
    ]);
  });
});

describe('subjects that two findings of a rule share', () => {
  const alike = defineRule({
    ...named,
    id: 'test/alike',
    *check(context) {
      for (const draft of named.check(context)) yield { ...draft, subject: draft.subject === 'x3' ? 'x3' : 'x' };
    },
  });

  it('get a party each, and only those', () => {
    const subjects = (text: string): readonly string[] => run(text, [alike]).findings.map((one) => one.subject);
    expect(subjects(`${PLAN}  - name: x3\n`)).toEqual(['x (x2)', 'x (x1)', 'x3']);
    expect(subjects('devices: [{name: x1}, {name: x3}]\n')).toEqual(['x', 'x3']);
  });
});

describe('sources', () => {
  it("are the rule's, or those of them a finding names", () => {
    const [one, two] = [{ practice: 'one' }, { practice: 'two' }];
    const rule = defineRule({
      ...named,
      sources: [one, two],
      *check(context) {
        for (const draft of named.check(context)) yield draft.subject === 'x1' ? { ...draft, sources: [two] } : draft;
      },
    });
    expect(run(PLAN, [rule]).findings.map(({ subject, sources }) => [subject, sources])).toEqual([
      ['x2', [one, two]],
      ['x1', [two]],
    ]);
  });
});

describe('a rule that throws', () => {
  it('is reported by name; the others still run', () => {
    const result = run(PLAN, [throwing, named]);
    expect(result.crashed).toEqual([{ rule: 'test/throws', message: 'broken on purpose' }]);
    expect(result.findings).toHaveLength(2);
  });

  it('gives none of the findings it had before it threw', () => {
    const half = defineRule({
      ...named,
      id: 'test/half',
      *check(context) {
        yield* named.check(context);
        throw new Error('late');
      },
    });
    expect(run(PLAN, [half]).findings).toEqual([]);
  });
});

describe('missing facts', () => {
  it('are data, worded with what to write, unless nothing need be there', () => {
    const { notJudged } = run(PLAN, [named, waiting, optionalWaiting]);
    expect(notJudged).toEqual([{ fact: 'macs', rules: ['test/waits'] }]);
    expect(notJudged.map(notJudgedWords)).toEqual([
      { area: 'test', missing: 'MAC addresses', write: 'give interfaces a `mac`' },
    ]);
  });
});

describe('a profile', () => {
  it('sets severities, turns rules off, sets thresholds', () => {
    expect(
      run(PLAN, [named], { profile: profile({ severity: { 'test/named-x': 'error' } }) }).findings.map(
        (one) => one.severity,
      ),
    ).toEqual(['error', 'error']);
    expect(run(PLAN, [named], { profile: profile({ severity: { 'test/named-x': 'off' } }) }).findings).toEqual([]);
    expect(run(PLAN, [named], { profile: profile({ thresholds: { 'test/named-x.least': 3 } }) }).findings).toEqual([]);
  });

  it('outranks the conventions, which outranks the default', () => {
    const text = `conventions: {thresholds: {test/named-x.least: 3}}\n${PLAN}`;
    expect(run(text).findings).toEqual([]);
    expect(run(text, [named], { profile: profile({ thresholds: { 'test/named-x.least': 2 } }) }).findings).toHaveLength(
      2,
    );
  });
});

describe('waivers', () => {
  const waived = (extra: string): LintResult =>
    run(`${PLAN}waivers:\n  - {rule: test/named-x, subject: x1, reason: agreed${extra}}\n`, [named, ...WAIVER_RULES]);

  it('take a finding out and keep its reason', () => {
    const result = waived('');
    expect(result.findings.map((one) => one.subject)).toEqual(['x2']);
    expect(result.waived.map((one) => [one.finding.subject, one.reason])).toEqual([['x1', 'agreed']]);
  });

  it('hold through their last day and not after', () => {
    expect(waived(', until: 2026-06-01').waived).toHaveLength(1);
    const after = waived(', until: 2026-05-31');
    expect(after.waived).toEqual([]);
    expect(after.findings.map((one) => [one.rule, one.subject])).toContainEqual(['test/uses', 'x1 expired']);
  });

  it('hold only for the parties they name', () => {
    expect(waived(', parties: [x1]').waived).toHaveLength(1);
    expect(waived(', parties: [x7]').waived).toEqual([]);
  });

  it('that nothing matches are told to rules of the waivers stage', () => {
    const result = run(`${PLAN}waivers:\n  - {rule: test/named-x, subject: x9, reason: gone}\n`, [
      named,
      ...WAIVER_RULES,
    ]);
    expect(result.findings.map((one) => one.subject)).toContain('x9 idle');
  });

  it('of a rule that could not run are not called idle', () => {
    const result = run(`${PLAN}waivers:\n  - {rule: test/waits, subject: x9, reason: later}\n`, [
      waiting,
      ...WAIVER_RULES,
    ]);
    expect(result.findings).toEqual([]);
  });
});

const WAIVER_RULES: readonly Rule[] = [
  defineRule({
    ...named,
    id: 'test/uses',
    needs: [],
    stage: 'waivers',
    *check({ waivers }) {
      for (const { waiver, state } of waivers) {
        if (state === 'used') continue;
        yield {
          subject: `${waiver.subject} ${state}`,
          facts: { state },
          at: mark(waiver, waiver.subject, 'subject'),
          touch: { kind: 'plan', name: 'waivers' },
        };
      }
    },
    words: () => ({ what: 'a waiver', onAir: 'nothing', fix: 'delete it' }),
  }),
];

describe('a baseline', () => {
  it('accepts what it holds, and only that', () => {
    const first = run(PLAN);
    const baseline = readBaseline({ name: 'base.json', text: formatBaseline(baselineOf(first.findings)) }).baseline;
    expect(baseline).toBeDefined();
    const again = run(`${PLAN}  - name: x3\n`, [named], { baseline });
    expect(again.findings.map((one) => one.subject)).toEqual(['x3']);
    expect(again.known.map((one) => one.subject)).toEqual(['x2', 'x1']);
    expect(again.staleBaseline).toEqual([]);
  });

  it('names entries nothing matches any more', () => {
    const baseline = baselineOf(run(PLAN).findings);
    expect(run('devices: [{name: x1}]\n', [named], { baseline }).staleBaseline).toEqual([
      { rule: 'test/named-x', subject: 'x2' },
    ]);
  });

  it('does not accept a finding that somebody new has joined', () => {
    const [finding] = run(PLAN).findings;
    if (finding === undefined) throw new Error('no finding');
    const outcome = applyBaseline(
      [{ ...finding, parties: [...finding.parties, 'cam-9'] }],
      baselineOf([finding]),
      new Set(['test/named-x']),
    );
    expect([outcome.fresh.length, outcome.known.length, outcome.stale.length]).toEqual([1, 0, 0]);
  });

  it('is the same text whatever the order of findings', () => {
    const { findings } = run(PLAN);
    expect(formatBaseline(baselineOf([...findings].reverse()))).toBe(formatBaseline(baselineOf(findings)));
  });
});

describe('an unreadable part', () => {
  it('keeps the rest from being judged, for a missing part raises false alarms', () => {
    const result = lintInputs(
      [
        { name: 'a.yaml', text: PLAN },
        { name: 'b.yaml', text: 'devices: 3\n' },
      ],
      [named],
      { today: '2026-06-01' },
    );
    expect(result.problems).toHaveLength(1);
    expect(result.findings).toEqual([]);
    expect(result.rulesRun).toEqual([]);
  });

  it('that is a session description leaves the rest judged', () => {
    const result = lintInputs(
      [
        { name: 'a.yaml', text: PLAN },
        { name: 'b.sdp', text: 'v=7\n' },
      ],
      [named],
      { today: '2026-06-01' },
    );
    expect(result.problems).toHaveLength(1);
    expect(result.findings).toHaveLength(2);
  });
});
