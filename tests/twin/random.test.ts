/**
 * The model against random rigs on both planes, whole and again after something was taken away: then the model is asked
 * about the plan without it. See README.md beside this file for the long run.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Plan } from '../../src/plan/types.js';
import { skipped } from '../tools/outside.js';
import { benchOf, settleSteps } from './bench.js';
import { blockedDirections } from './blocked.js';
import { goEitherWay } from './either-way.js';
import { differences, type Difference, type Expected } from './judge.js';
import { LABS_AT_ONCE, sideBySide } from './lab.js';
import { lossSteps, without } from './loss.js';
import { randomRigs, type RandomRig } from './random.js';
import { PLANES, type Plane } from './rigs.js';
import { modelled, observeUntil, resolve, whyNoPlane, type Bench } from './twin.js';

/** Rigs of each plane. */
const RIGS = Number(process.env['TWIN_RIGS'] ?? 24);
const FRESH = process.env['TWIN_RIGS'] !== undefined;
const SEED = Number(process.env['TWIN_SEED'] ?? (FRESH ? Math.floor(Math.random() * 1e9) : 2110));
/** Rigs that one lab holds: more would only wait for each other. */
const IN_A_LAB = 32;
/** Of a hundred rigs, how many may differ, and none at a host port. */
const MOST_DIFFERING = 0.02;
const MOST_MS = 60_000 + 20_000 * RIGS;

interface Task {
  readonly random: RandomRig;
  readonly number: number;
  readonly plane: Plane;
  readonly bench: Bench;
  readonly expected: readonly Expected[];
}

interface Outcome {
  readonly task: Task;
  readonly error: string | undefined;
  readonly found: readonly Difference[];
}

const tasks = PLANES.flatMap((plane) =>
  randomRigs(RIGS, SEED, plane).map((random, index) => taskOf(random, index + 1, plane)),
);

function taskOf(random: RandomRig, number: number, plane: Plane): Task {
  const { rig, loss } = random;
  const plan = resolve(rig);
  if (loss === undefined)
    return {
      random,
      number,
      plane,
      bench: { plan, spec: benchOf(plan, {}, plane) },
      expected: [expectedOf(plan, plane)],
    };
  const after = resolve(without(rig, loss));
  const then = [...lossSteps(rig, plan, loss), ...settleSteps(plan, plane), { do: 'send' as const }];
  return {
    random,
    number,
    plane,
    bench: { plan, spec: benchOf(plan, { then }, plane) },
    expected: [expectedOf(plan, plane), expectedOf(after, plane)],
  };
}

function expectedOf(plan: Plan, plane: Plane): Expected {
  return {
    picture: modelled(plan),
    aside: plane === 'bridges' ? goEitherWay(plan) : new Set(),
    blocked: blockedDirections(plan),
  };
}

let outcomes: readonly Outcome[] = [];
beforeAll(async () => {
  const runnable = tasks.filter(({ plane }) => whyNoPlane(plane) === undefined);
  const batches = Array.from({ length: Math.ceil(runnable.length / IN_A_LAB) }, (_, index) =>
    runnable.slice(index * IN_A_LAB, (index + 1) * IN_A_LAB),
  );
  const results = await sideBySide(batches, LABS_AT_ONCE, async (batch) => {
    const of = (index: number): readonly Expected[] => batch[index]?.expected ?? [];
    const seen = await observeUntil(
      (index, one) => one.error === undefined && differences(of(index), one.pictures).length === 0,
      batch.map(({ bench }) => bench),
    );
    return batch.map((task, index): Outcome => {
      const one = seen[index];
      return { task, error: one?.error, found: differences(task.expected, one?.pictures ?? []) };
    });
  });
  outcomes = results.flat();
  if (FRESH) console.log(summary(outcomes));
}, MOST_MS);

describe.each(PLANES)('random rigs on %s', (plane) => {
  const reason = whyNoPlane(plane);
  const own = (): readonly Outcome[] => outcomes.filter(({ task }) => task.plane === plane);

  it.skipIf(reason !== undefined)(`${RIGS} of seed ${SEED}: host ports are all as modelled${skipped(reason)}`, () => {
    expect(own()).toHaveLength(RIGS);
    expect(own().flatMap(({ task, error }) => (error === undefined ? [] : [`${task.number}: ${error}`]))).toEqual([]);
    expect(own().flatMap((one) => (one.found.some(({ where }) => where === 'host') ? [told(one)] : []))).toEqual([]);
  });

  it.skipIf(reason !== undefined)(
    `${RIGS} of seed ${SEED}: links differ in two of a hundred at most${skipped(reason)}`,
    () => {
      const differing = own().filter(({ found }) => found.length > 0);
      expect(differing.length, differing.map(told).join('\n')).toBeLessThanOrEqual(Math.floor(RIGS * MOST_DIFFERING));
    },
  );

  it('carry, keep and flood, in both families, whole and after a loss: no kind is missing', () => {
    const expected = tasks.filter((task) => task.plane === plane).flatMap((task) => task.expected);
    const sizes = expected.flatMap(({ picture }) => Object.entries(picture).map(([key, one]) => ({ key, ...one })));
    for (const is6 of [false, true]) {
      const family = sizes.filter(({ key }) => key.includes(':') === is6);
      expect(family.filter(({ hosts }) => hosts.length === 0).length).toBeGreaterThan(RIGS / 8);
      expect(family.filter(({ hosts }) => hosts.length > 2).length).toBeGreaterThan(RIGS / 16);
    }
    expect(expected.length).toBeGreaterThan(1.5 * RIGS);
    const bound = tasks.filter((one) => one.plane === plane && one.random.rig.hosts.some((host) => host.bound));
    expect(bound.length).toBeGreaterThanOrEqual(plane === 'bridges' ? RIGS / 8 : 0);
  });
});

function told({ task, found }: Outcome): string {
  return JSON.stringify({ plane: task.plane, number: task.number, found, ...task.random });
}

function summary(all: readonly Outcome[]): string {
  const lines = PLANES.map((plane) => {
    const own = all.filter(({ task }) => task.plane === plane);
    const count = (holds: (one: Outcome) => boolean): number => own.filter(holds).length;
    const aside = own
      .flatMap(({ task }) => task.expected.map((one) => one.aside.size))
      .reduce((sum, one) => sum + one, 0);
    return `${plane}: ${own.length} rigs, ${count(({ found }) => found.length > 0)} differ, ${count(({ found }) =>
      found.some(({ where }) => where === 'host'),
    )} of them at a host port, ${count(({ error }) => error !== undefined)} not built; ${aside} streams go either way`;
  });
  return [
    `seed ${SEED}`,
    ...lines,
    ...all.filter(({ found, error }) => found.length > 0 || error !== undefined).map(told),
  ].join('\n');
}
