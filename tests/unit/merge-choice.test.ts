/** Which rig moves in each clash, against trying every choice; and the bound where trying is too much. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Rig } from '../../src/plan/types.js';
import type { Box, Clash } from '../../src/merge/repair/clashes.js';
import { fewestBoxes } from '../../src/merge/repair/fewest-boxes.js';

const RIGS = ['Grebe', 'Heron', 'Dunlin', 'Sanderling'].map((name) => ({ name }) as Rig);
const BOXES = RIGS.map((rig) =>
  Array.from({ length: 4 }, (_, index) => ({ name: `${rig.name}-${index}`, rig }) as Box),
);

/** Clashes of two or more rigs, each with some of its boxes. */
const clash = (rigs: number): fc.Arbitrary<Clash> =>
  fc
    .uniqueArray(fc.integer({ min: 0, max: rigs - 1 }), { minLength: 2, maxLength: rigs })
    .chain((chosen) =>
      fc.tuple(
        ...chosen.map((rig) =>
          fc
            .uniqueArray(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 2 })
            .map((boxes) => ({ rig, boxes })),
        ),
      ),
    )
    .map((parts) => ({
      parts: parts.flatMap(({ rig, boxes }) => {
        const owner = RIGS[rig];
        return owner === undefined
          ? []
          : [{ rig: owner, boxes: new Set(boxes.flatMap((box) => BOXES[rig]?.[box] ?? [])), legs: [], held: [] }];
      }),
    }));

/** The fewest boxes of all choices of who stays in each clash. */
function least(clashes: readonly Clash[], keep: Rig | undefined): number {
  let best = Infinity;
  const walk = (index: number, moved: ReadonlySet<Box>): void => {
    if (moved.size >= best) return;
    const one = clashes[index];
    if (one === undefined) {
      best = moved.size;
      return;
    }
    const kept = one.parts.find(({ rig }) => rig === keep);
    for (const stays of kept === undefined ? one.parts : [kept])
      walk(index + 1, new Set([...moved, ...one.parts.flatMap((part) => (part === stays ? [] : [...part.boxes]))]));
  };
  walk(0, new Set());
  return best;
}

/** Whether in every clash all rigs but one move. */
function settles(clashes: readonly Clash[], moving: ReadonlySet<object>): boolean {
  return clashes.every(({ parts }) => parts.filter((part) => !moving.has(part)).length <= 1);
}

describe.each([2, 3, 4])('of %d rigs', (rigs) => {
  it('as few boxes are touched as can be, whoever is kept', () => {
    fc.assert(
      fc.property(
        // Every choice is tried up to 20,000 of them: seven clashes of four rigs give 4⁷.
        fc.array(clash(rigs), { maxLength: 7 }),
        fc.constantFrom(undefined, ...RIGS.slice(0, rigs)),
        (clashes, keep) => {
          const { parts, touched, atLeast } = fewestBoxes(clashes, keep);
          expect(settles(clashes, new Set(parts))).toBe(true);
          expect(parts.every(({ rig }) => rig !== keep)).toBe(true);
          expect(touched).toBe(new Set(parts.flatMap(({ boxes }) => [...boxes])).size);
          expect(touched).toBe(least(clashes, keep));
          expect(atLeast).toBe(touched);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('of many clashes among three rigs', () => {
  it('the bound is not above what is possible, nor above what was found', () => {
    fc.assert(
      fc.property(fc.array(clash(3), { minLength: 16, maxLength: 24 }), (clashes) => {
        const { parts, touched, atLeast } = fewestBoxes(clashes, undefined);
        expect(settles(clashes, new Set(parts))).toBe(true);
        expect(atLeast).toBeLessThanOrEqual(least(clashes, undefined));
        expect(touched).toBeGreaterThanOrEqual(atLeast);
      }),
      { numRuns: 60 },
    );
  });
});
