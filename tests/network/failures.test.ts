/** The failure model against brute force on random networks: any topology, shared risks, feeds, one or two legs, routing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createModel } from '../../src/model/model.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { readDocument } from '../../src/read/index.js';
import { bruteFailures } from './brute-force.js';
import { planOf, randomRig, type RandomRig } from './random-rig.js';

describe('failures by structure agree with brute force', () => {
  it.each([
    ['without routing', false, 400],
    ['with routing', true, 300],
  ] as const)('%s', (_, routed, numRuns) => {
    fc.assert(
      fc.property(randomRig({ switches: 7, links: 10, streams: 4, routed }), (rig) => {
        expect(Object.fromEntries(modelFailures(rig))).toEqual(Object.fromEntries(bruteFailures(rig)));
      }),
      { numRuns },
    );
  });
});

function modelFailures(
  rig: RandomRig,
): ReadonlyMap<string, { readonly lost: readonly string[]; readonly weakened: readonly string[] }> {
  const read = readDocument({ name: 'plan.json', text: JSON.stringify(planOf(rig)) });
  if (read.document === undefined) throw new Error(JSON.stringify(read.problems));
  const { plan, problems } = resolvePlan([read.document]);
  if (problems.length > 0 || plan.unresolved.length > 0)
    throw new Error(JSON.stringify([problems, plan.unresolved.map((one) => one.text)]));
  const names = (
    list: readonly { readonly receiver: { readonly device: { readonly name: string } } }[],
  ): readonly string[] => list.map((one) => one.receiver.device.name).sort();
  return new Map(
    createModel(plan)
      .failures.ranked.filter(({ element }) => element.kind !== 'device' && element.kind !== 'interface')
      .map(
        ({ element, lost, weakened }) =>
          [`${element.kind} ${element.name}`, { lost: names(lost), weakened: names(weakened) }] as const,
      )
      .filter(([, { lost, weakened }]) => lost.length + weakened.length > 0),
  );
}
