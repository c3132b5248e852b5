/** The model against Linux: what a kernel's bridges forward must be what `carriedBy` says. See README.md beside this file. */
import { isDeepStrictEqual } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { skipped } from '../tools/outside.js';
import { benchOf } from './bench.js';
import { CASES } from './cases.js';
import { LINUX_SWITCH, type ShortRig } from './rigs.js';
import { randomRigs } from './random.js';
import { modelled, observeUntil, resolve, whyNot, type Bench, type Observed, type Picture } from './twin.js';

const SEED = Number(process.env['TWIN_SEED'] ?? 2110);
const RANDOM_RIGS = 120;
const AT_ONCE = 40;
/** Three runs of the driver on a machine that has much else to do; one takes ten to twenty seconds. */
const LONGEST_MS = 510_000;

const reason = whyNot();

describe(`rigs made by hand${skipped(reason)}`, () => {
  let seen: readonly Observed[] = [];
  beforeAll(async () => {
    if (reason !== undefined) return;
    seen = await observeUntil(
      (index, one) =>
        same(
          one.pictures,
          CASES[index]?.stages.map(({ kernel }) => kernel),
        ),
      CASES.map(({ rig, extras }) => benchFor(rig, extras)),
    );
  }, LONGEST_MS);

  it.skipIf(reason !== undefined).each(CASES.map((one, index) => [one.title, one.stages, index] as const))(
    '%s',
    (_, stages, index) => {
      expect(seen[index]?.error).toBeUndefined();
      expect(seen[index]?.pictures).toEqual(stages.map(({ kernel }) => kernel));
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
  const rigs = randomRigs(RANDOM_RIGS, SEED);
  const batches = Array.from({ length: RANDOM_RIGS / AT_ONCE }, (_, index) =>
    rigs.slice(index * AT_ONCE, (index + 1) * AT_ONCE),
  );
  it
    .skipIf(reason !== undefined)
    .each(batches.map((batch, index) => [index * AT_ONCE + 1, (index + 1) * AT_ONCE, batch] as const))(
    '%i to %i',
    async (_from, _to, batch) => {
      const expected = batch.map((rig) => [modelled(resolve(rig))]);
      const seen = await observeUntil(
        (index, one) => same(one.pictures, expected[index]),
        batch.map((rig) => benchFor(rig)),
      );
      batch.forEach((rig, index) => {
        const told = JSON.stringify(rig);
        expect(seen[index]?.error, told).toBeUndefined();
        expect(seen[index]?.pictures, told).toEqual(expected[index]);
      });
    },
    LONGEST_MS,
  );

  it('carry, keep and flood: no kind is missing', () => {
    const sizes = rigs.flatMap((rig) => Object.values(modelled(resolve(rig))).map(({ hosts }) => hosts.length));
    expect(sizes.length).toBeGreaterThan(3 * RANDOM_RIGS);
    expect(sizes.filter((size) => size === 0).length).toBeGreaterThan(RANDOM_RIGS / 2);
    expect(sizes.filter((size) => size > 2).length).toBeGreaterThan(RANDOM_RIGS / 2);
    expect(new Set(rigs.map(({ switches }) => switches.length))).toEqual(new Set([1, 2, 3, 4]));
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

function same(seen: readonly Picture[], expected: readonly Picture[] | undefined): boolean {
  return isDeepStrictEqual(seen, expected);
}

function benchFor(rig: ShortRig, extras?: (typeof CASES)[number]['extras']): Bench {
  const plan = resolve(rig);
  return { plan, spec: benchOf(plan, extras) };
}
