/** Whatever is answered, the request that is written can be read, and a clean plan can be made of it. */
import { worded } from '../tools/worded.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { allocate } from '../../src/allocate/allocate.js';
import type { AllAnswers } from '../../src/allocate/ask/answers.js';
import { COMMON_KINDS } from '../../src/allocate/ask/common-kinds.js';
import { EXAMPLE, requestText } from '../../src/allocate/ask/request-text.js';
import { planText } from '../../src/allocate/plan-text.js';
import { rawRequest, readRequest } from '../../src/allocate/request.js';
import { lintInputs } from '../../src/lint/lint.js';
import { parsePrefix, type Prefix } from '../../src/values/address.js';

function prefix(text: string): Prefix {
  const found = parsePrefix(text);
  if (found === undefined) throw new Error(`${text} is no block`);
  return found;
}

const name = fc.oneof(
  fc.constantFrom('Sanderling', 'finish island', 'yes', '12', 'a: b', 'quay #2', "it's", 'Ünder', '{x}'),
  fc.stringMatching(/^[A-Za-z][\w .:#'-]{0,12}$/),
);

const answers: fc.Arbitrary<AllAnswers> = fc.record({
  rig: name,
  venue: name,
  areas: fc.uniqueArray(
    fc.record({
      name,
      crates: fc.uniqueArray(
        fc.record({ kind: fc.constantFrom(...COMMON_KINDS), count: fc.integer({ min: 1, max: 12 }) }),
        { minLength: 1, maxLength: 4, selector: ({ kind }) => kind.name },
      ),
    }),
    { minLength: 1, maxLength: 3, selector: (area) => area.name },
  ),
  networks: fc.constantFrom(1 as const, 2 as const),
  addressBlock: fc.constantFrom('10.20.0.0/14', '172.16.0.0/14').map(prefix),
  groupBlock: fc.constantFrom('239.192.0.0/14', '239.64.0.0/14').map(prefix),
  growthPercent: fc.integer({ min: 0, max: 100 }),
  file: fc.constant('request.yaml'),
});

function planFrom(text: string): string {
  const { document, problems } = readRequest({ name: 'request.yaml', text });
  expect(problems, text).toEqual([]);
  if (document === undefined) throw new Error('not a request');
  const outcome = allocate(rawRequest(document));
  if ('refusals' in outcome) throw new Error(`${outcome.refusals.map(({ what }) => what).join('; ')}\n${text}`);
  return planText(outcome, rawRequest(document));
}

describe('a request from answers', () => {
  it('is one, and makes a plan without a fault', () => {
    fc.assert(
      fc.property(answers, (all) => {
        const { findings, problems } = lintInputs([{ name: 'plan.yaml', text: planFrom(requestText(all)) }], RULES, {
          today: '2026-06-01',
        });
        expect(problems).toEqual([]);
        expect(
          findings
            .filter(({ severity }) => severity === 'error')
            .map(worded)
            .map(({ rule, what }) => `${rule}: ${what}`),
        ).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('the example for those without a terminal', () => {
  it('makes a clean plan', () => {
    const { findings } = lintInputs([{ name: 'plan.yaml', text: planFrom(EXAMPLE) }], RULES, { today: '2026-06-01' });
    expect(findings.map(worded).map(({ rule, what }) => `${rule}: ${what}`)).toEqual([]);
  });
});
