import { Ajv } from 'ajv';
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import type { LintResult } from '../../src/lint/result.js';
import { REPORTERS } from '../../src/reporters/lint.js';
import { CLEAN, COLLISION, FULL, HOSTILE_TEXTS, resultFilledWith } from '../tools/report-samples.js';
import { DENIALS } from '../../src/model/verdicts/fates.js';

const OPTIONS = { version: '0.1.0', width: 80, colour: true };
const SCHEMA = JSON.parse(readFileSync(new URL('../../schemas/report.schema.json', import.meta.url), 'utf8')) as object;
const validate = new Ajv({ strict: true, allErrors: true }).compile(SCHEMA);

function written(result: LintResult): Record<string, unknown> {
  return JSON.parse(REPORTERS.json(result, OPTIONS)) as Record<string, unknown>;
}

function firstFinding(): object {
  return (written(FULL)['findings'] as [object])[0];
}

describe('schemas/report.schema.json', () => {
  it.each([
    ['clean', CLEAN],
    ['everything at once', FULL],
    ['a place without lines', { ...CLEAN, findings: [{ ...COLLISION, at: { ...COLLISION.at, where: 'Streams!C7' } }] }],
    ['a waiver without an end', { ...CLEAN, waived: [{ finding: COLLISION, reason: 'Spare.', until: undefined }] }],
    ...HOSTILE_TEXTS.map((text, index): [string, LintResult] => [`hostile text ${index}`, resultFilledWith(text)]),
  ])('accepts %s', (_, result) => {
    validate(written(result));
    expect(validate.errors).toBeNull();
  });

  it.each([
    ['an unknown key', { extra: 1 }],
    ['another format', { format: 2 }],
    ['a key too few', { caution: undefined }],
    ['an unknown severity', { findings: [{ ...firstFinding(), severity: 'fatal' }] }],
    ['an unknown confidence', { findings: [{ ...firstFinding(), confidence: 'sure' }] }],
    ['facts that are no record', { findings: [{ ...firstFinding(), facts: ['cam-3'] }] }],
  ])('rejects %s', (_, change) => {
    const document = JSON.parse(JSON.stringify({ ...written(FULL), ...change })) as unknown;
    expect(validate(document)).toBe(false);
  });

  it.each(['report', 'trace'])('names all that keeps a stream from a receiver: %s', (name) => {
    const text = readFileSync(new URL(`../../schemas/${name}.schema.json`, import.meta.url), 'utf8');
    expect(DENIALS.filter((denial) => !text.includes(`"${denial}"`))).toEqual([]);
  });

  it('describes every property', () => {
    const undescribed: string[] = [];
    const visit = (value: unknown, path: string): void => {
      if (typeof value !== 'object' || value === null) return;
      for (const [key, child] of Object.entries(value)) {
        if (path.endsWith('/properties') && !('description' in (child as object))) undescribed.push(`${path}/${key}`);
        visit(child, `${path}/${key}`);
      }
    };
    visit(SCHEMA, '');
    expect(undescribed).toEqual([]);
  });
});

describe('JSON report', () => {
  it('keeps its keys in order', () => {
    expect(Object.keys(written(FULL))).toEqual([
      'format',
      'tool',
      'complete',
      'totals',
      'files',
      'plan',
      'rules',
      'findings',
      'waived',
      'baselineUsed',
      'known',
      'staleBaseline',
      'receivers',
      'withoutRate',
      'withoutAddress',
      'judgedWhole',
      'notJudged',
      'assumptions',
      'crashed',
      'problems',
      'caution',
    ]);
  });

  it('says of a finding how sure it is, and what it is about as data', () => {
    const { plan } = loadPlan([{ name: 'plan.yaml', text: 'devices: [{name: cam-3}]\n', format: 'yaml' }]);
    const facts = { device: plan.devices[0], loadBps: 1e9, spare: undefined, ports: ['1', '2'] };
    const [first] = written({ ...CLEAN, findings: [{ ...COLLISION, confidence: 'likely', facts }] })['findings'] as [
      object,
    ];
    expect(first).toMatchObject({ confidence: 'likely', facts: { device: 'cam-3', loadBps: 1e9, ports: ['1', '2'] } });
    expect(Object.keys(first)).toEqual([
      'rank',
      'block',
      'rule',
      'severity',
      'confidence',
      'subject',
      'parties',
      'touch',
      'brief',
      'effect',
      'boxes',
      'what',
      'onAir',
      'fix',
      'facts',
      'at',
      'others',
      'sources',
    ]);
  });

  it('shows entities in facts by their names, and says what is no data', () => {
    const leg = { origin: {}, name: 'red-video' };
    const findings = [
      { ...COLLISION, facts: { vlan: leg, groups: ['239.1.1.1'], missing: undefined, odd: new Map() } },
    ];
    expect((written({ ...CLEAN, findings })['findings'] as [object])[0]).toMatchObject({
      facts: { vlan: 'red-video', groups: ['239.1.1.1'], odd: 'an object of class Map is no data' },
    });
  });

  it('counts what it lists', () => {
    expect(written(FULL)['totals']).toEqual({ errors: 1, warnings: 1, notes: 1, waived: 1, known: 1 });
    expect(written(FULL)['complete']).toBe(false);
    expect(written(CLEAN)['complete']).toBe(true);
  });

  it('gives back every text as it was, and is safe to print', () => {
    const anyText = fc.oneof(fc.string({ unit: 'binary' }), fc.constantFrom(...HOSTILE_TEXTS));
    fc.assert(
      fc.property(anyText, (text) => {
        const document = REPORTERS.json(resultFilledWith(text), OPTIONS);
        const [finding] = (JSON.parse(document) as { findings: [Record<string, unknown>] }).findings;
        expect(finding).toMatchObject({ subject: text, parties: [text], what: text, onAir: text, fix: text });
        expect(finding['at']).toEqual({ file: text, line: 1, column: 9, endLine: 1, endColumn: 19, label: text });
        expect(document).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
        expect(document).not.toMatch(/[\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/);
      }),
    );
  });
});
