/**
 * The demo rigs: the clean plans give nothing, each broken revision gives exactly the lines of its `expected.txt`,
 * one for each mistake in it. Set UPDATE=1 to write the expected files anew, then read them.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../rules/index.js';
import { allocate } from '../src/allocate/allocate.js';
import { planText } from '../src/allocate/plan-text.js';
import { rawRequest, readRequest } from '../src/allocate/request.js';
import { lintInputs } from '../src/lint/lint.js';
import { leavesOpen } from '../src/lint/unjudged.js';
import { loadPlan } from '../src/plan/load.js';
import type { LintResult } from '../src/lint/result.js';
import { mergeRigs } from '../src/merge/merge.js';
import { readInputs } from '../src/edge/files.js';
import { asTextInput } from './tools/texts.js';
import { readDocument, type Input } from '../src/read/index.js';

const EXAMPLES = fileURLToPath(new URL('../examples', import.meta.url));
const KESTREL_BAY = join(EXAMPLES, 'kestrel-bay');
/** Past the last day of Heron's waiver, before that of Dunlin's. */
const TODAY = '2026-06-01';
const CLEAN = ['heron', 'dunlin'];
const BROKEN = ['heron-broken', 'dunlin-broken'];
/** Different rules that the two broken revisions show together; a change that loses one is a loss for the reader. */
const RULES_SHOWN = 79;

describe('every example file', () => {
  const files = plansBelow(EXAMPLES).map((input) => ({ file: relative(EXAMPLES, input.name), input }));

  it.each(files)('$file is valid', ({ input }) => {
    expect(readDocument(input).problems).toEqual([]);
  });
});

/** A request is no plan: it is held against the plan that was made of it. */
function plansBelow(folder: string): readonly Input[] {
  return inputsBelow(folder).filter(({ name }) => !name.endsWith('request.yaml'));
}

describe('the finish island', () => {
  const folder = join(KESTREL_BAY, 'finish-island');
  const others = CLEAN.map((rig) => ({ from: rig, inputs: inputsBelow(join(KESTREL_BAY, rig)) }));
  const plan = inputsBelow(folder).filter(({ name }) => name.endsWith('plan.yaml'));

  it('has the plan that its request gives', () => {
    const [input] = inputsBelow(folder).filter(({ name }) => name.endsWith('request.yaml'));
    const document = input === undefined ? undefined : readRequest(input).document;
    if (document === undefined) throw new Error('the request of the finish island is not one');
    const request = rawRequest(document);
    const outcome = allocate(request, { plans: [loadPlan(others.flatMap(({ inputs }) => inputs)).plan] });
    if ('refusals' in outcome) throw new Error(outcome.refusals.map(({ what }) => what).join('; '));
    expect(planText(outcome, request)).toBe(plan[0] && asTextInput(plan[0]).text);
  });

  it('is clean, alone and joined with both rigs', () => {
    expect(lintInputs(plan, RULES, { today: TODAY }).findings).toEqual([]);
    const joined = mergeRigs([{ from: 'plan.yaml', inputs: plan }, ...others], RULES, { today: TODAY });
    expect(joined.problems).toEqual([]);
    expect(
      (joined.joined?.findings ?? []).filter(({ at, others: more }) =>
        [at, ...more].some(({ file }) => file === plan[0]?.name),
      ),
    ).toEqual([]);
  });
});

describe.each(CLEAN)('the plan of %s', (rig) => {
  const result = lint(rig);

  it('is read and judged whole', () => {
    expectAllJudged(result);
  });

  it('gives no finding and needs no waiver', () => {
    expect(lines(result)).toEqual([]);
    expect(result.waived).toEqual([]);
  });

  it('is clean because every receiver leg is delivered', () => {
    expect(leavesOpen(result)).toBe(false);
    expect(result.receivers?.legs).toBeGreaterThan(400);
    expect(result.receivers?.delivered).toBe(result.receivers?.legs);
  });
});

describe('the leaf and spine plan', () => {
  const result = lintInputs(inputsBelow(join(EXAMPLES, 'leaf-spine.yaml')), RULES, { today: TODAY });

  it('gives no finding, and says that the loss of the spine in use is not judged for overload', () => {
    expect(lines(result)).toEqual([]);
    expect(result.assumptions).toEqual([{ fact: 'routerLoss', routers: ['spine-1'] }]);
  });

  it('delivers every leg, through three routers', () => {
    expect(result.receivers?.delivered).toBe(3);
    expect(result.receivers?.legs).toBe(3);
  });
});

describe.each(BROKEN)('the plan of %s', (rig) => {
  const result = lint(rig);

  it('is read and judged whole', () => {
    expectAllJudged(result);
  });

  it('gives exactly the findings of expected.txt', () => {
    const found = `${lines(result).join('\n')}\n`;
    if (process.env['UPDATE'] !== undefined) writeFileSync(expectedFile(rig), found);
    expect(found).toBe(readFileSync(expectedFile(rig), 'utf8'));
  });

  it('has a finding for every receiver leg that is not delivered', () => {
    const denied = result.receivers?.notDelivered ?? [];
    expect(denied.length).toBeGreaterThan(0);
    expect(denied.filter(({ finding }) => finding === undefined)).toEqual([]);
  });

  it('has the same files as the clean plan', () => {
    expect(fileNames(rig)).toEqual(fileNames(rig.replace('-broken', '')));
  });
});

describe('the broken plans together', () => {
  it(`show ${RULES_SHOWN} rules or more`, () => {
    const shown = BROKEN.flatMap((rig) => lint(rig).findings.map((finding) => finding.rule));
    expect(new Set(shown).size).toBeGreaterThanOrEqual(RULES_SHOWN);
  });
});

function lint(rig: string): LintResult {
  const { inputs, problems } = readInputs([join(KESTREL_BAY, rig)]);
  return lintInputs(inputs, RULES, { today: TODAY }, problems);
}

function expectAllJudged(result: LintResult): void {
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  expect(result.notJudged).toEqual([]);
  expect(result.rulesRun).not.toEqual([]);
}

function lines(result: LintResult): readonly string[] {
  return [...result.findings]
    .sort((a, b) => compare(a.rule, b.rule) || compare(a.subject, b.subject))
    .map((finding) => `${finding.severity} ${finding.rule} | ${finding.subject}`);
}

function inputsBelow(folder: string): readonly Input[] {
  return readInputs([folder]).inputs;
}

function fileNames(rig: string): readonly string[] {
  const folder = join(KESTREL_BAY, rig);
  return inputsBelow(folder).map((input) => relative(folder, input.name));
}

function expectedFile(rig: string): string {
  return join(KESTREL_BAY, rig, 'expected.txt');
}

/** By code unit, so that the order is the same on every machine. */
function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
