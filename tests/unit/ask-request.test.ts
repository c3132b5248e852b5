/** Whatever is answered, the request that is written can be read, and a clean plan can be made of it. */
import { worded } from '../tools/worded.js';
import fc from 'fast-check';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { allocate } from '../../src/allocate/allocate.js';
import type { AllAnswers, Crate } from '../../src/allocate/ask/answers.js';
import { COMMON_KINDS } from '../../src/allocate/ask/common-kinds.js';
import { usualTaking } from '../../src/allocate/ask/taking.js';
import { EXAMPLE, requestText } from '../../src/allocate/ask/request-text.js';
import { planText } from '../../src/allocate/plan-text.js';
import { rawRequest, readRequest } from '../../src/allocate/request.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { lintPlan } from '../../src/lint/run.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
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

const answered = fc.record({
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
  switchPorts: fc.constantFrom(0, 7, 48),
  addressBlock: fc.constantFrom('10.20.0.0/14', '172.16.0.0/14').map(prefix),
  groupBlock: fc.constantFrom('239.192.0.0/14', '239.64.0.0/14').map(prefix),
  growthPercent: fc.integer({ min: 0, max: 100 }),
  file: fc.constant('request.yaml'),
});
const answers: fc.Arbitrary<AllAnswers> = answered.map((all) => ({ ...all, taking: usualTaking(all.areas) }));

/** All that is sent goes to the core, which queries, though nobody takes it: 45 pictures of 2.23 Gbit/s. */
const QUAY: AllAnswers = {
  rig: 'Sanderling',
  venue: 'Kestrel Bay',
  areas: [
    { name: 'truck', crates: [crate('camera', 1)] },
    { name: 'quay', crates: [crate('gateway', 9), crate('camera', 9)] },
  ],
  taking: new Map(),
  networks: 1,
  switchPorts: 48,
  addressBlock: prefix('10.20.0.0/14'),
  groupBlock: prefix('239.192.0.0/14'),
  growthPercent: 0,
  file: 'request.yaml',
};

function crate(kindName: string, count: number): Crate {
  const kind = COMMON_KINDS.find((one) => one.name === kindName);
  if (kind === undefined) throw new Error(`no kind is called ${kindName}`);
  return { kind, count };
}

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
      { numRuns: 60, examples: [[QUAY]] },
    );
  });
});

describe('a request from answers with switches', () => {
  it('makes a plan in which every stream that is taken arrives, and says of every other that nobody takes it', () => {
    fc.assert(
      fc.property(answers, fc.constantFrom(7, 48), (all, switchPorts) => {
        const whole = { ...all, switchPorts };
        const text = requestText(whole);
        const { receivers, plan } = judged(planFrom(text));
        expect(receivers?.notDelivered.map(({ receiverLeg }) => receiverLeg.receiver.label)).toEqual([]);
        expect(receivers?.notFollowed.map(({ lacks }) => lacks)).toEqual([]);
        expect(receivers?.legs).toBe(receiversIn(text) * all.networks);
        const taken = new Set(plan.receivers.map(({ takes }) => takes));
        const untaken = plan.senders.filter((sender) => !taken.has(sender)).length;
        expect(untaken > 0).toBe(text.includes('# Taken by nobody: '));
      }),
      { numRuns: 40 },
    );
  });
});

/** Receivers that the text of a request asks for, told from its tree alone. */
function receiversIn(text: string): number {
  const { devices } = load(text) as {
    readonly devices: readonly { readonly count: number; readonly takes?: object }[];
  };
  return devices.reduce((sum, { count, takes = {} }) => sum + count * Object.keys(takes).length, 0);
}

function judged(text: string): { readonly receivers: LintResult['receivers']; readonly plan: Plan } {
  const { plan } = loadPlan([{ name: 'plan.yaml', text }]);
  return { receivers: lintPlan(plan, RULES, { today: '2026-06-01' }).receivers, plan };
}

describe('the example for those without a terminal', () => {
  it('makes a clean plan', () => {
    const { findings } = lintInputs([{ name: 'plan.yaml', text: planFrom(EXAMPLE) }], RULES, { today: '2026-06-01' });
    expect(findings.map(worded).map(({ rule, what }) => `${rule}: ${what}`)).toEqual([]);
  });
});
