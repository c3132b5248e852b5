/** The model against Linux: what a kernel's bridges forward must be what `carriedBy` says. See README.md beside this file. */
import { isDeepStrictEqual } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { skipped } from '../tools/outside.js';
import { benchOf } from './bench.js';
import { CASES } from './cases.js';
import { LINUX_SWITCH, type ShortRig } from './rigs.js';
import { LABS_AT_ONCE, sideBySide, whyNoLab } from './lab.js';
import { randomRigs } from './random.js';
import { modelled, observeUntil, resolve, type Bench, type Observed, type Picture } from './twin.js';

const SEED = Number(process.env['TWIN_SEED'] ?? 2110);
const RANDOM_RIGS = 120;
/** Rigs that one lab holds: more would only wait for each other. */
const IN_A_LAB = 40;
/** Three runs of two labs in turn on a machine that has much else to do; one takes ten to twenty seconds. */
const LONGEST_MS = 1_020_000;

const reason = whyNoLab('python3');
const random = randomRigs(RANDOM_RIGS, SEED);

/** Rigs for one lab, and what is to be seen of each. */
interface Batch {
  readonly benches: readonly Bench[];
  readonly expected: readonly (readonly Picture[])[];
}

const byHand: Batch = {
  benches: CASES.map(({ rig, extras }) => benchFor(rig, extras)),
  expected: CASES.map(({ stages }) => stages.map(({ kernel }) => kernel)),
};
const batches = Array.from({ length: RANDOM_RIGS / IN_A_LAB }, (_, index): Batch => {
  const rigs = random.slice(index * IN_A_LAB, (index + 1) * IN_A_LAB);
  return { benches: rigs.map((rig) => benchFor(rig)), expected: rigs.map((rig) => [modelled(resolve(rig))]) };
});

let seenByHand: readonly Observed[] = [];
let seenInBatches: readonly (readonly Observed[])[] = [];
beforeAll(async () => {
  if (reason !== undefined) return;
  [seenByHand = [], ...seenInBatches] = await sideBySide([byHand, ...batches], LABS_AT_ONCE, ({ benches, expected }) =>
    observeUntil((index, one) => isDeepStrictEqual(one.pictures, expected[index]), benches),
  );
}, LONGEST_MS);

describe(`rigs made by hand${skipped(reason)}`, () => {
  it.skipIf(reason !== undefined).each(CASES.map((one, index) => [one.title, one.stages, index] as const))(
    '%s',
    (_, stages, index) => {
      expect(seenByHand[index]?.error).toBeUndefined();
      expect(seenByHand[index]?.pictures).toEqual(stages.map(({ kernel }) => kernel));
    },
  );
});

describe('the model of the same rigs', () => {
  it.each(CASES.map((one) => [one.title, one] as const))('%s', (_, { rig, stages }) => {
    for (const { kernel, model = rig } of stages) {
      if (model === 'differs') expect(modelled(resolve(rig))).not.toEqual(kernel);
      else expect(modelled(resolve(model))).toEqual(kernel);
    }
  });
});

describe(`random rigs, seed ${SEED}${skipped(reason)}`, () => {
  it
    .skipIf(reason !== undefined)
    .each(batches.map((batch, index) => [index * IN_A_LAB + 1, (index + 1) * IN_A_LAB, batch, index] as const))(
    '%i to %i',
    (from, _to, { expected }, batch) => {
      const seen = seenInBatches[batch] ?? [];
      expect(expected).toHaveLength(IN_A_LAB);
      expected.forEach((pictures, index) => {
        const told = JSON.stringify(random[from - 1 + index]);
        expect(seen[index]?.error, told).toBeUndefined();
        expect(seen[index]?.pictures, told).toEqual(pictures);
      });
    },
  );

  it('carry, keep and flood: no kind is missing', () => {
    const sizes = random.flatMap((rig) => Object.values(modelled(resolve(rig))).map(({ hosts }) => hosts.length));
    expect(sizes.length).toBeGreaterThan(3 * RANDOM_RIGS);
    expect(sizes.filter((size) => size === 0).length).toBeGreaterThan(RANDOM_RIGS / 2);
    expect(sizes.filter((size) => size > 2).length).toBeGreaterThan(RANDOM_RIGS / 2);
    expect(new Set(random.map(({ switches }) => switches.length))).toEqual(new Set([1, 2, 3, 4]));
  });
});

describe('plans that say something else of a switch than what a Linux bridge does are refused', () => {
  const rig = CASES[0]?.rig ?? { vlans: {}, switches: [], links: [], hosts: [] };
  it.each([
    ['snoopingKey', 'mac'],
    ['snoopingKey', 'group'],
    ['noQuerier', 'prune'],
    ['unregistered', 'flood'],
  ] as const)('%s: %s', (key, value) => {
    expect(() => benchOf(resolve(rig))).not.toThrow();
    expect(() => benchOf(resolve(rig, { ...LINUX_SWITCH, [key]: value }))).toThrow(/a Linux bridge/);
  });
});

function benchFor(rig: ShortRig, extras?: (typeof CASES)[number]['extras']): Bench {
  const plan = resolve(rig);
  return { plan, spec: benchOf(plan, extras) };
}
