/** Verdicts on receiver legs: one each, whatever the order and the names; every example says what its counts say. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { leavesOpen } from '../../src/lint/unjudged.js';
import { createModel } from '../../src/model/model.js';
import { buildTrace } from '../../src/model/explain/index.js';
import { DELIVERED } from '../../src/model/verdicts/index.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import { lintPage } from '../../src/report/lint/page.js';
import { generatePlan } from '../bench/generate.js';
import { read, ruleFolders } from '../rules/load.js';
import { textsOf } from '../tools/page-parts.js';
import { FAULTS, first, type Plan as RawPlan } from '../tools/faults.js';

const TODAY = '2026-06-01';

function counts({ receivers }: LintResult): readonly [legs: number, sum: number] {
  if (receivers === undefined) throw new Error('nothing was judged');
  const { legs, delivered, notDelivered, notFollowed } = receivers;
  return [legs, delivered + notDelivered.length + notFollowed.reduce((sum, { takers }) => sum + takers.length, 0)];
}

describe('the good examples of every rule', () => {
  it.each(
    ruleFolders().flatMap((folder) =>
      folder.files.filter((file) => /^good(-[a-z0-9-]+)?\.(yaml|json)$/.test(file)).map((file) => ({ folder, file })),
    ),
  )('$folder.id $file', ({ folder, file }) => {
    const result = lintInputs([{ name: file, text: read(folder, file) }], RULES, { today: TODAY });
    const [legs, sum] = counts(result);
    expect(sum).toBe(legs);
    const clean = textsOf(lintPage(result), 'Verdict')[0]?.startsWith('Clean') === true;
    if (!clean) return;
    expect(leavesOpen(result)).toBe(false);
    expect(result.receivers?.delivered).toBe(legs);
    expect(result.waived.length + result.known.length).toBe(0);
  });
});

describe('the bad examples of every rule', () => {
  it.each(
    ruleFolders().flatMap((folder) =>
      folder.files.filter((file) => /^bad(-[a-z0-9-]+)?\.(yaml|json)$/.test(file)).map((file) => ({ folder, file })),
    ),
  )('$folder.id $file explain what is not delivered', ({ folder, file }) => {
    const result = lintInputs([{ name: file, text: read(folder, file) }], RULES, { today: TODAY });
    const [legs, sum] = counts(result);
    expect(sum).toBe(legs);
    expectExplained(result);
    expect(textsOf(lintPage(result), 'Verdict')[0]).not.toMatch(/^Clean/);
  });
});

function expectExplained({ receivers }: LintResult): void {
  const bare = (receivers?.notDelivered ?? []).filter(({ finding }) => finding === undefined);
  expect(bare.map(({ receiverLeg, denial }) => `${receiverLeg.receiver.label}: ${denial}`)).toEqual([]);
}

describe('every receiver leg', () => {
  it('has one verdict, which a trace of its stream shares and no order of the plan changes', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 8, max: 60 }),
        fc.subarray(
          FAULTS.map((_, index) => index),
          { minLength: 1, maxLength: 4 },
        ),
        fc.boolean(),
        (streams, faults, switching) => {
          const raw = JSON.parse(JSON.stringify(generatePlan(streams))) as RawPlan;
          if (switching) switchBetween(raw);
          for (const index of faults)
            FAULTS[index]?.inject(raw, raw.devices[1] ?? first(raw.devices), first(raw.devices));
          const plan = planOf(raw);
          expect(verdictsByLabel(planOf({ ...raw, devices: [...raw.devices].reverse() }))).toEqual(
            verdictsByLabel(plan),
          );
          const renamed = JSON.parse(JSON.stringify(raw).replaceAll('gateway-', 'amber-')) as object;
          expect(createModel(planOf(renamed)).verdicts.fates).toEqual(createModel(plan).verdicts.fates);
          expectTraced(plan);
          expectExplained(lintInputs([{ name: 'plan.json', text: JSON.stringify(raw) }], RULES, { today: TODAY }));
        },
      ),
      { numRuns: 20 },
    );
  });
});

/** Lets every second input switch between its stream and those of the inputs before it. */
function switchBetween(raw: RawPlan): void {
  const before: string[] = [];
  for (const { receivers = [] } of raw.devices)
    for (const [index, receiver] of (receivers as { takes?: unknown }[]).entries()) {
      if (typeof receiver.takes !== 'string') continue;
      before.push(receiver.takes);
      if (index % 2 === 0) receiver.takes = before.slice(-3);
    }
}

function planOf(raw: object): Plan {
  return loadPlan([{ name: 'plan.json', text: JSON.stringify(raw) }]).plan;
}

function verdictsByLabel(plan: Plan): readonly string[] {
  const { fates, legs } = createModel(plan).verdicts;
  expect(fates.length).toBe(plan.receiverLegs.length);
  expect(legs).toBe(plan.receiverLegs.length + plan.receivers.filter((one) => one.legs.length === 0).length);
  return plan.receiverLegs
    .map((leg, index) => `${leg.receiver.label} ${leg.takes?.sender.label ?? ''} ${leg.index}: ${fates[index] ?? -1}`)
    .sort();
}

function expectTraced(plan: Plan): void {
  const model = createModel(plan);
  const { fates } = model.verdicts;
  const byLeg = new Map(plan.receiverLegs.map((leg, index) => [leg, fates[index] ?? -1]));
  for (const sender of plan.senders.slice(0, 6)) {
    for (const { leg, stages, unreached } of buildTrace(model, sender).legs) {
      for (const one of stages.flatMap(({ reached }) => reached))
        if (one.takes === leg) expect([DELIVERED, 1]).toContain(byLeg.get(one));
      for (const { receiverLeg } of unreached)
        if (receiverLeg?.takes === leg) expect(byLeg.get(receiverLeg)).not.toBe(DELIVERED);
    }
  }
}
