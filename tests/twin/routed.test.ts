/** Streams through routers in a row: kernel multicast routing with FRR must do what is written out, and the model say it. See README.md beside this file. */
import { isDeepStrictEqual } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { skipped } from '../tools/outside.js';
import { ROUTED } from './routed.js';
import { modelledRoutes, routedPlan } from './routed-plan.js';
import { observeRouters, whyNoRouters } from './routers.js';

const reason = whyNoRouters();
/** A router that starts late misses a moment: what does not agree is built once more. */
const TIMES = 2;
const LONGEST_MS = TIMES * 200_000;

let seen: Awaited<ReturnType<typeof observeRouters>> = [];
beforeAll(async () => {
  if (reason !== undefined) return;
  const agrees = (index: number): boolean => isDeepStrictEqual(seen[index]?.pictures, ROUTED[index]?.stages);
  for (let time = 0; time < TIMES; time++) {
    const left = ROUTED.flatMap((one, index) => (agrees(index) ? [] : [{ one, index }]));
    if (left.length === 0) break;
    const found = await observeRouters(left.map(({ one }) => one));
    const now = [...seen];
    left.forEach(({ index }, order) => {
      const one = found[order];
      if (one !== undefined) now[index] = one;
    });
    seen = now;
  }
}, LONGEST_MS);

describe(`routers in a row${skipped(reason)}`, () => {
  it.skipIf(reason !== undefined).each(ROUTED.map((one, index) => [one.title, one, index] as const))(
    '%s',
    (_, one, index) => {
      expect(seen[index]?.error).toBeUndefined();
      expect(seen[index]?.pictures).toEqual(one.stages);
    },
  );
});

describe('the model of the same routers', () => {
  it.each(ROUTED.map((one) => [one.title, one] as const))('%s', (_, { rig, cuts, stages }) => {
    stages.forEach((stage, index) => {
      const links = cuts.slice(0, index).flatMap((cut) => cut.links ?? []);
      const modelled = modelledRoutes(rig, routedPlan(rig, { links }));
      for (const { name } of rig.streams) expect(modelled[name], name).toEqual(stage[name] ?? { hosts: {}, links: [] });
    });
  });
});
