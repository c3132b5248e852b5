/**
 * Laws of the whole linter: a clean generated plan gives silence; one injected fault gives exactly its finding; the order
 * of entries and files never changes the result.
 */
import { findingText } from '../../src/lint/finding.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { generatePlan } from '../bench/generate.js';
import { FAULTS, first, type Plan } from '../tools/faults.js';

const size = fc.integer({ min: 8, max: 120 });
const planOf = (streams: number): Plan => JSON.parse(JSON.stringify(generatePlan(streams))) as Plan;
const lint = (plan: object): LintResult =>
  lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, { today: '2026-06-01' });
const shown = (result: LintResult): readonly string[] =>
  [
    ...result.findings.map(
      (one) =>
        `${one.severity} ${one.rule} | ${one.subject} | ${findingText(one).what} | ${findingText(one).fix} | ${one.parties.join()}`,
    ),
    ...result.problems.map((one) => one.what),
    ...result.crashed.map((one) => `${one.rule}: ${one.message}`),
  ].sort();

describe('a clean generated plan', () => {
  it('gives silence, whatever its size', () => {
    fc.assert(
      fc.property(size, (streams) => {
        expect(shown(lint(planOf(streams)))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });
});

describe('one injected fault gives exactly its finding', () => {
  it.each(FAULTS.map((one) => [one.fault, one] as const))('%s', (_, { rule, inject }) => {
    fc.assert(
      fc.property(size, fc.nat(), (streams, chosen) => {
        const plan = planOf(streams);
        const index = 1 + (chosen % (plan.devices.length - 1));
        const device = plan.devices[index];
        if (device === undefined) throw new Error('no device');
        inject(plan, device, first(plan.devices));
        const result = lint(plan);
        expect(result.problems).toEqual([]);
        expect(
          new Set(result.findings.map((one) => one.rule)),
          JSON.stringify(result.findings.map((one) => [one.rule, findingText(one).what])),
        ).toEqual(new Set([rule]));
      }),
      { numRuns: 8 },
    );
  });
});

describe('order', () => {
  it('of devices, VLANs, switches, links and streams never changes the result', () => {
    fc.assert(
      fc.property(
        size,
        fc.subarray(
          FAULTS.map((_, index) => index),
          { minLength: 1, maxLength: 4 },
        ),
        fc.infiniteStream(fc.nat()),
        (streams, faults, numbers) => {
          const plan = planOf(streams);
          for (const index of faults)
            FAULTS[index]?.inject(plan, plan.devices[1] ?? first(plan.devices), first(plan.devices));
          const before = shown(lint(plan));
          const next = (): number => numbers.next().value as number;
          const shuffled = {
            ...plan,
            devices: shuffle(plan.devices, next).map((device) => ({
              ...device,
              interfaces: shuffle(device.interfaces, next),
            })),
            vlans: shuffle(plan.vlans, next),
            switches: shuffle(plan.switches, next),
            links: shuffle(plan.links, next),
          };
          expect(shown(lint(shuffled))).toEqual(before);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('of files never changes the result', () => {
    const plan = planOf(40);
    for (const fault of FAULTS.slice(0, 6))
      fault.inject(plan, plan.devices[2] ?? first(plan.devices), first(plan.devices));
    const { devices, ...rest } = plan;
    const inputs = [
      { name: 'rest.json', text: JSON.stringify(rest) },
      ...devices.map((device, index) => ({
        name: `${index}.json`,
        text: JSON.stringify({ rig: plan.rig, devices: [device] }),
      })),
    ];
    const results = [inputs, [...inputs].reverse()].map((order) =>
      shown(lintInputs(order, RULES, { today: '2026-06-01' })),
    );
    expect(results[0]?.length).toBeGreaterThan(0);
    expect(results[1]).toEqual(results[0]);
  });
});

function shuffle<T>(items: readonly T[], next: () => number): readonly T[] {
  const left = [...items];
  return items.map(() => left.splice(next() % left.length, 1)[0] as T);
}
