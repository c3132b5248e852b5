/** SARIF logs against the schema of OASIS: SARIF 2.1.0 errata 01 (a draft-04 schema). */
import ajvDraft04 from 'ajv-draft-04';
import ajvFormats from 'ajv-formats';
import { createHash } from 'node:crypto';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readInputs } from '../../src/edge/files.js';
import type { Finding } from '../../src/lint/finding.js';
import type { Says } from '../tools/worded.js';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { leavesOpen } from '../../src/lint/unjudged.js';
import type { SarifLog, SarifResult } from '../../src/report/lint/sarif-types.js';
import { REPORTERS } from '../../src/reporters/lint.js';
import { read, ruleFolders } from '../rules/load.js';
import { skipped, textOf, unpublished } from '../tools/outside.js';
import {
  CLEAN,
  CLOCK,
  clockSaying,
  collisionWith,
  FULL,
  HOSTILE_TEXTS,
  resultFilledWith,
} from '../tools/report-samples.js';

const SCHEMA = 'report-schemas/sarif-schema-2.1.0-errata01-draft04.json';
const missing = unpublished(SCHEMA);

function logOf(result: LintResult): SarifLog {
  return JSON.parse(REPORTERS.sarif(result, { version: '0.1.0', width: 80, colour: true })) as SarifLog;
}

function resultsOf(result: LintResult): readonly SarifResult[] {
  return logOf(result).runs[0].results;
}

function uriOf(name: string): string {
  const finding: Finding = { ...CLOCK, at: { ...CLOCK.at, file: name } };
  return resultsOf({ ...CLEAN, findings: [finding] })[0]?.locations[0]?.physicalLocation.artifactLocation.uri ?? '';
}

describe.skipIf(missing !== undefined)(`schema of SARIF 2.1.0 errata 01${skipped(missing)}`, () => {
  const compile = () => {
    const ajv = new ajvDraft04.default({ strict: false, allErrors: true });
    ajvFormats.default(ajv);
    return ajv.compile(JSON.parse(textOf(SCHEMA)) as object);
  };

  it.each([
    ['clean', CLEAN],
    ['everything at once', FULL],
    ...HOSTILE_TEXTS.map((text, index): [string, LintResult] => [`hostile text ${index}`, resultFilledWith(text)]),
  ])('accepts the log of %s', (_, result) => {
    const validate = compile();
    validate(logOf(result));
    expect(validate.errors).toBeNull();
  });

  it('accepts the log of every example of a rule, whatever is not judged there', () => {
    const validate = compile();
    for (const { log } of examples()) {
      validate(log);
      expect(validate.errors).toBeNull();
    }
  });

  it('rejects broken logs', () => {
    const validate = compile();
    const log = logOf(FULL);
    const [run] = log.runs;
    const [first] = run.results;
    const withRun = (change: object) => ({ ...log, runs: [{ ...run, ...change }] });
    expect(validate(withRun({}))).toBe(true);
    expect(validate(withRun({ results: [{ ...first, level: 'fatal' }] }))).toBe(false);
    expect(validate(withRun({ results: [{ ...first, message: undefined }] }))).toBe(false);
    expect(validate(withRun({ invocations: [{}] }))).toBe(false);
    expect(validate(withRun({ artifacts: [{ location: { uri: 'two words.yaml' } }] }))).toBe(false);
    expect(validate(withRun({ columnKind: 'bytes' }))).toBe(false);
    expect(validate({ ...log, version: '2.2.0' })).toBe(false);
  });
});

/**
 * Single constraints of SARIF 2.1.0 errata 01, as its schema has them: the path of a property, what it may be, and the
 * section of the object that has it.
 */
describe('every value stands in the list of SARIF 2.1.0', () => {
  const VALUES: readonly (readonly [path: string, allowed: readonly unknown[], section: string])[] = [
    ['version', ['2.1.0'], '§3.13'],
    ['runs.*.columnKind', ['utf16CodeUnits', 'unicodeCodePoints'], '§3.14'],
    ['runs.*.results.*.level', ['none', 'note', 'warning', 'error'], '§3.27'],
    ['runs.*.results.*.baselineState', ['new', 'unchanged', 'updated', 'absent'], '§3.27.24'],
    ['runs.*.results.*.suppressions.*.kind', ['inSource', 'external'], '§3.35'],
    ['runs.*.results.*.suppressions.*.status', ['accepted', 'underReview', 'rejected'], '§3.35'],
    ['runs.*.invocations.*.toolExecutionNotifications.*.level', ['none', 'note', 'warning', 'error'], '§3.58'],
    ['runs.*.invocations.*.executionSuccessful', [true, false], '§3.20'],
  ];
  it.each(VALUES)('%s: %j (%s)', (path, allowed) => {
    const found = valuesAt(logOf(FULL), path.split('.'));
    expect(found.length).toBeGreaterThan(0);
    for (const value of found) expect(allowed).toContain(value);
  });

  it.each([
    ['runs.*.tool.driver.name', '§3.19'],
    ['runs.*.tool.driver.rules.*.id', '§3.49'],
    ['runs.*.results.*.message.text', '§3.11'],
    ['runs.*.results.*.suppressions.*.justification', '§3.35'],
    ['runs.*.invocations.*.toolExecutionNotifications.*.message.text', '§3.58'],
    ['runs.*.results.*.partialFingerprints.*', '§3.27'],
  ])('%s is text (%s)', (path) => {
    for (const result of [FULL, ...HOSTILE_TEXTS.map((text) => resultFilledWith(text))]) {
      for (const value of valuesAt(logOf(result), path.split('.'))) expect(typeof value).toBe('string');
    }
    expect(valuesAt(logOf(FULL), path.split('.')).length).toBeGreaterThan(0);
  });

  it.each(['startLine', 'startColumn', 'endLine', 'endColumn'])(
    'the %s of a region is a whole number from 1 (§3.30)',
    (name) => {
      for (const places of ['locations', 'relatedLocations']) {
        const path = ['runs', '*', 'results', '*', places, '*', 'physicalLocation', 'region', name];
        const found = valuesAt(logOf(FULL), path);
        expect(found.length).toBeGreaterThan(0);
        for (const value of found) expect(Number.isInteger(value) && Number(value) >= 1).toBe(true);
      }
    },
  );
});

/** All values at a path; `*` stands for every entry. */
function valuesAt(tree: unknown, path: readonly string[]): readonly unknown[] {
  const [key, ...rest] = path;
  if (key === undefined) return tree === undefined ? [] : [tree];
  if (typeof tree !== 'object' || tree === null) return [];
  const entries = tree as Readonly<Record<string, unknown>>;
  return (key === '*' ? Object.values(entries) : [entries[key]]).flatMap((one) => valuesAt(one, rest));
}

describe('results', () => {
  it('point to their rule and their places', () => {
    const [run] = logOf(FULL).runs;
    for (const result of run.results) expect(run.tool.driver.rules[result.ruleIndex]?.id).toBe(result.ruleId);
    const collision = run.results.find((result) => result.level === 'error');
    const region = { startLine: 61, startColumn: 9, endLine: 61, endColumn: 19 };
    expect(collision?.locations[0]?.physicalLocation.region).toEqual(region);
    expect(collision?.relatedLocations).toMatchObject([{ id: 1, message: { text: 'cam-3/video, leg 1' } }]);
    const files = run.artifacts.map((artifact) => artifact.location.uri);
    expect(files).toEqual(['heron.yaml', 'dunlin%20plan.csv']);
  });

  it('keep their fingerprint when lines and wording change, and only then', () => {
    const print = (change: Partial<Says>) => {
      const [result] = resultsOf({ ...CLEAN, findings: [collisionWith(change)] });
      return result?.partialFingerprints['rigproofSubject/v1'];
    };
    expect(print({ what: 'Other words.', at: CLOCK.at, others: [], severity: 'note' })).toBe(print({}));
    expect(print({ subject: '239.10.1.2 in red' })).not.toBe(print({}));
    expect(print({ rule: 'groups/other' })).not.toBe(print({}));
  });

  it('have the SHA-256 of rule and subject for a fingerprint, as another library computes it', () => {
    for (const subject of ['239.10.1.1 in red', 'Zürich 水上 🚣', ...HOSTILE_TEXTS]) {
      const [result] = resultsOf({ ...CLEAN, findings: [collisionWith({ subject })] });
      const expected = createHash('sha256')
        .update(JSON.stringify(['groups/two-senders', subject]))
        .digest('hex');
      expect(result?.partialFingerprints).toEqual({ 'rigproofSubject/v1': expected });
    }
  });

  it('say how sure they are', () => {
    const [result] = resultsOf({ ...CLEAN, findings: [collisionWith({ confidence: 'assumed' })] });
    expect(result?.properties['confidence']).toBe('assumed');
  });

  it('say of every result whether it is suppressed and new, or of none (SARIF 2.1.0 §3.27.23, §3.27.24)', () => {
    const results = resultsOf(FULL);
    expect(results.map((result) => result.suppressions.length)).toEqual([0, 0, 0, 1, 0]);
    expect(results[3]?.suppressions).toEqual([
      { kind: 'external', status: 'accepted', justification: 'Spare camera, never sends. (until 2031-08-31)' },
    ]);
    expect(results.map((result) => result.baselineState)).toEqual(['new', 'new', 'new', 'new', 'unchanged']);
    const withoutBaseline = resultsOf({ ...FULL, baselineUsed: false, known: [] });
    expect(withoutBaseline).toHaveLength(4);
    expect(withoutBaseline.some((result) => 'baselineState' in result)).toBe(false);
  });

  it('hold no placeholder and no link of a plan (SARIF 2.1.0 §3.11.5, §3.11.6)', () => {
    const [result] = resultsOf({ ...CLEAN, findings: [clockSaying('[go](https://kestrel.invalid/{0})')] });
    expect(result?.message.text).toContain('[go] (https://kestrel.invalid/{{0}})');
  });

  it('are there, empty, when nothing was found', () => {
    const [run] = logOf(CLEAN).runs;
    expect(run.results).toEqual([]);
    expect(run.invocations).toEqual([{ executionSuccessful: true, toolExecutionNotifications: [] }]);
  });
});

describe('notifications', () => {
  it('tell what could not be read and which rule stopped', () => {
    const [invocation] = logOf(FULL).runs[0].invocations;
    expect(invocation.executionSuccessful).toBe(false);
    expect(invocation.toolExecutionNotifications).toMatchObject([
      {
        level: 'error',
        locations: [{ physicalLocation: { artifactLocation: { uri: 'dunlin%20plan.csv', index: 1 } } }],
      },
      { level: 'error', associatedRule: { id: 'conventions/own-rule' } },
      { level: 'warning', message: { text: expect.stringMatching(/^Not judged: no /) as string } },
    ]);
  });
});

/** Examples of every rule, of which most state no more than the rule needs, and a rig that states all. */
function examples(): readonly { readonly id: string; readonly result: LintResult; readonly log: SarifLog }[] {
  const heron = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
  const whole = lintInputs(readInputs([heron]).inputs, RULES, { today: '2026-06-01' });
  const small = ruleFolders().flatMap((folder) =>
    folder.files
      .filter((file) => /^(bad|good)\.(yaml|json)$/.test(file))
      .map((file) => {
        const result = lintInputs([{ name: file, text: read(folder, file) }], RULES, { today: '2026-06-01' });
        return { id: `${folder.id} ${file}`, result, log: logOf(result) };
      }),
  );
  return [...small, { id: 'heron', result: whole, log: logOf(whole) }];
}

describe('verdicts', () => {
  it('are warnings about the run where part of a plan was not judged, and none where all was (SARIF 2.1.0 §3.20.21)', () => {
    const seen = new Set<boolean>();
    for (const { id, result, log } of examples()) {
      const [run] = log.runs;
      const [{ executionSuccessful, toolExecutionNotifications }] = run.invocations;
      const open = leavesOpen(result);
      seen.add(open);
      expect(executionSuccessful, id).toBe(true);
      expect(toolExecutionNotifications.length > 0, id).toBe(open);
      for (const { level } of toolExecutionNotifications) expect(level, id).toBe('warning');
      expect(run.properties['judgedWhole'], id).toBe(!open);
    }
    expect([...seen].sort()).toEqual([false, true]);
  });

  it('are counts among the properties of the run', () => {
    const receivers = { legs: 41, delivered: 41, notDelivered: [], notFollowed: [], unrated: 3, openEnded: 0 };
    const [run] = logOf({ ...CLEAN, receivers }).runs;
    expect(run.properties['receivers']).toEqual({
      legs: 41,
      delivered: 41,
      notDelivered: 0,
      notFollowed: 0,
      unratedLegs: 3,
      openEndedLegs: 0,
    });
    expect(run.invocations[0].toolExecutionNotifications).toMatchObject([
      {
        level: 'warning',
        message: {
          text: '3 stream legs have no known rate: every load is at least what is said. Give senders a `format`, and mend those that a finding calls a slip',
        },
      },
    ]);
  });
});

describe('artifact URIs', () => {
  it.each([
    ['rigs/heron plan.yaml', 'rigs/heron%20plan.yaml'],
    ['rigs\\heron.yaml', 'rigs/heron.yaml'],
    ['C:\\rigs\\heron.yaml', 'file:///C:/rigs/heron.yaml'],
    ['a:b#c?d.yaml', 'a%3Ab%23c%3Fd.yaml'],
    ['../dunlin.csv', '../dunlin.csv'],
    ['<stdin>', '%3Cstdin%3E'],
  ])('of %s is %s', (name, uri) => {
    expect(uriOf(name)).toBe(uri);
  });

  const names = ['rigs/100 % 水上.yaml', 'a#b?c=d&e.yaml', 'x/[y]/z;w.yaml'];
  it.each(names)('lead a URL reader back to %s (WHATWG URL, node:url)', (name) => {
    const folder = pathToFileURL('/plans/');
    expect(fileURLToPath(new URL(uriOf(name), folder))).toBe(`/plans/${name}`);
    expect(fileURLToPath(uriOf(`/plans/${name}`))).toBe(`/plans/${name}`);
  });
});
