/**
 * A clean plan is judged by bounds and sums: no rule asks for what every link carries, or for the way of every stream, which
 * cost more than all else together. Taking `model` apart in a rule's head is enough to ask.
 */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { readInputs } from '../../src/edge/files.js';
import type { Rule } from '../../src/lint/rule.js';
import { FACTS } from '../../src/model/facts.js';
import { createModel, type Model } from '../../src/model/model.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import { generatePlan } from '../bench/generate.js';

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay/', import.meta.url));
const COSTLY = 'asked for what is costly';

/** Rules that ask for loads or flows of a small clean rig, each with its reason. The generated plans settle all of them. */
const ALLOWED: Readonly<Record<string, string>> = {
  'capacity/group-table-overflow':
    'the rigs state sizes of group tables, and only flows tell which groups a switch keeps',
  'capacity/link-overload': 'the links of Heron would not hold all streams at once',
  'capacity/link-overload-after-failure': 'nor would they after a failure',
  'capacity/port-overload': 'no port of a rig would hold all streams of its VLAN at once',
  'capacity/wan-overload': 'a circuit would not hold all streams of its VLANs at once',
};

/** The model of a plan that refuses to say what links carry and which way streams go. */
function frugal(plan: Plan): Model {
  const model = createModel(plan);
  const refuse = (): never => {
    throw new Error(COSTLY);
  };
  Object.defineProperty(model, 'load', { get: refuse });
  Object.defineProperty(model.network, 'flows', { get: refuse });
  Object.defineProperty(model.network, 'flowsOf', { value: refuse });
  return model;
}

function asks(rule: Rule, plan: Plan, model: Model): boolean {
  const threshold = (name: string): number => rule.thresholds?.[name]?.default ?? Number.NaN;
  try {
    const found = [...rule.check({ plan, model, threshold, thresholdElsewhere: () => undefined, waivers: [] })];
    expect(found, rule.id).toEqual([]);
    return false;
  } catch (error) {
    if (error instanceof Error && error.message === COSTLY) return true;
    throw error;
  }
}

const RIGS = ['heron', 'dunlin', 'finish-island'].map((name) => () => loadPlan(readInputs([BAY + name]).inputs).plan);

function asking(plan: Plan): readonly string[] {
  const model = frugal(plan);
  const ready = RULES.filter(({ needs }) => needs.every((need) => FACTS[need].stated(plan)));
  expect(ready.length).toBeGreaterThan(60);
  return ready.filter((rule) => asks(rule, plan, model)).map(({ id }) => id);
}

describe('a clean plan', () => {
  it.each(['kinds', 'spelled'] as const)('of any size, by %s, is judged without loads and flows', (shape) => {
    const text = JSON.stringify(generatePlan(4000, shape));
    expect(asking(loadPlan([{ name: 'plan.json', text }]).plan)).toEqual([]);
  });

  it('that is a rig makes only those rules ask which have a reason', () => {
    const all = new Set(RIGS.flatMap((load) => asking(load())));
    expect([...all].sort()).toEqual(Object.keys(ALLOWED));
  });
});

it('a model that refuses is noticed', () => {
  const { plan } = loadPlan(readInputs([`${BAY}finish-island`]).inputs);
  const careless: Rule = {
    ...{ id: 'test/careless', summary: 'Asks', severity: 'note', sources: [], needs: [] },
    *check({ model: { load: all } }) {
      if (all.unrated < 0) yield* [];
    },
    words: () => ({ what: '', onAir: '', fix: '' }),
  };
  expect(asks(careless, plan, frugal(plan))).toBe(true);
});
