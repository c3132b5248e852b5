/**
 * The model against random fabrics of routers, whole and again after a link or a router was taken away: then the model is
 * asked about the plan without it. See README.md beside this file for the long run.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { skipped } from '../tools/outside.js';
import { sideBySide } from './lab.js';
import {
  eitherWay,
  expectedAfter,
  expectedWhole,
  routedDifferences,
  type RoutedDifference,
  type RoutedExpected,
} from './routed-judge.js';
import { randomRoutedRigs, type RandomRoutedRig } from './routed-random.js';
import { observeRouters, whyNoRouters } from './routers.js';

/** In a long run half as many as of each plane of switches: they take longer. */
const RIGS = Math.ceil(Number(process.env['TWIN_RIGS'] ?? 16) / 2);
const FRESH = process.env['TWIN_RIGS'] !== undefined;
const SEED = Number(process.env['TWIN_SEED'] ?? (FRESH ? Math.floor(Math.random() * 1e9) : 2110));
/** Rigs that one lab holds: each has three daemons a router, which on a busy machine miss their moment. */
const IN_A_LAB = 8;
/** What does not agree is built again, by itself: a model that is wrong is wrong each time. */
const TIMES = 3;
const MOST_MS = 120_000 + 15_000 * RIGS;

interface Task extends RandomRoutedRig {
  readonly number: number;
  readonly stages: readonly [RoutedExpected, RoutedExpected];
}

interface Outcome {
  readonly task: Task;
  readonly error: string | undefined;
  readonly found: readonly RoutedDifference[];
  /** How often it was built. */
  readonly times: number;
}

const tasks = randomRoutedRigs(RIGS, SEED).map(({ rig, cut }, index): Task => ({
  rig,
  cut,
  number: index + 1,
  stages: [expectedWhole(rig), expectedAfter(rig, cut)],
}));
const reason = whyNoRouters();

let outcomes: readonly Outcome[] = [];
beforeAll(async () => {
  if (reason !== undefined) return;
  const batches = Array.from({ length: Math.ceil(tasks.length / IN_A_LAB) }, (_, index) =>
    tasks.slice(index * IN_A_LAB, (index + 1) * IN_A_LAB),
  );
  outcomes = (await sideBySide(batches, 1, judged)).flat();
  if (FRESH) console.log(summary());
}, MOST_MS);

async function judged(batch: readonly Task[]): Promise<readonly Outcome[]> {
  let done: readonly Outcome[] = batch.map((task) => ({ task, error: 'not built', found: [], times: 0 }));
  for (let time = 1; time <= TIMES; time++) {
    const left = done.filter(differs).map(({ task }) => task);
    if (left.length === 0) break;
    const seen = await observeRouters(left.map(({ rig, cut }) => ({ rig, cuts: [cut] })));
    done = done.map((one) => {
      const now = seen[left.indexOf(one.task)];
      if (now === undefined) return one;
      const found = now.error === undefined ? routedDifferences(one.task, now.pictures) : [];
      return { task: one.task, error: now.error, found, times: time };
    });
  }
  return done;
}

const differs = ({ error, found }: Outcome): boolean => error !== undefined || found.length > 0;

describe(`random fabrics of routers${skipped(reason)}`, () => {
  it.skipIf(reason !== undefined)(
    `${RIGS} of seed ${SEED}: links, host ports, loads and verdicts are as modelled`,
    () => {
      expect(outcomes).toHaveLength(RIGS);
      expect(outcomes.filter(differs).map(told)).toEqual([]);
    },
  );
});

describe('the random fabrics', () => {
  it('carry, die on the way and keep out, whole and after a loss: no kind is missing', () => {
    const pictures = tasks.flatMap(({ stages }) => stages.map(({ pictures: [first] }) => first));
    const ways = pictures.flatMap((one) => Object.values(one));
    expect(ways.filter(({ links }) => links.length > 1).length).toBeGreaterThan(RIGS);
    expect(ways.filter(({ links }) => links.length === 0).length).toBeGreaterThan(RIGS / 2);
    const changed = tasks.filter(({ stages: [{ pictures: before }, { pictures: after }] }) =>
      Object.keys(before[0]).some((name) => JSON.stringify(before[0][name]) !== JSON.stringify(after[0][name])),
    );
    expect(changed.length).toBeGreaterThan(RIGS / 3);
  });
});

function told({ task: { number, rig, cut }, error, found }: Outcome): string {
  return JSON.stringify({ seed: SEED, number, error, found, cut, rig });
}

function summary(): string {
  const own = (holds: (one: Outcome) => boolean): number => outcomes.filter(holds).length;
  const streams = tasks.reduce((sum, { rig }) => sum + 2 * rig.streams.length, 0);
  const aside = tasks.reduce((sum, { stages }) => sum + eitherWay(stages[1]).size, 0);
  return [
    `seed ${SEED}: ${outcomes.length} fabrics with ${streams} streams, whole and after a loss; ${own(differs)} differ, ` +
      `${own(({ error }) => error !== undefined)} of them not built; ${own(({ times }) => times > 1)} built more than once; ` +
      `${aside} streams go either way after a loss`,
    ...outcomes.filter(differs).map(told),
  ].join('\n');
}
