/** The least set of boxes to touch, against trying every set. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastCover, type Sides } from '../../src/merge/repair/least-cover.js';

function holds(cover: ReadonlySet<string>, clashes: readonly Sides<string>[]): boolean {
  return clashes.every(
    ({ left, right }) => left.every((box) => cover.has(box)) || right.every((box) => cover.has(box)),
  );
}

/** The size of the smallest set that will do, by trying all of them. */
function smallest(clashes: readonly Sides<string>[]): number {
  const boxes = [...new Set(clashes.flatMap(({ left, right }) => [...left, ...right]))];
  let best = boxes.length;
  for (let mask = 0; mask < 1 << boxes.length; mask++) {
    const set = new Set(boxes.filter((_, index) => (mask >> index) & 1));
    if (set.size < best && holds(set, clashes)) best = set.size;
  }
  return best;
}

const clash = fc.record({
  left: fc.uniqueArray(fc.constantFrom('a1', 'a2', 'a3', 'a4', 'a5', 'a6'), { minLength: 1, maxLength: 3 }),
  right: fc.uniqueArray(fc.constantFrom('b1', 'b2', 'b3', 'b4', 'b5', 'b6'), { minLength: 1, maxLength: 3 }),
});

describe('the least set of boxes to touch', () => {
  it('is as small as the smallest of all sets that will do', () => {
    fc.assert(
      fc.property(fc.array(clash, { maxLength: 12 }), (clashes) => {
        const cover = leastCover(clashes);
        expect(holds(cover, clashes)).toBe(true);
        expect(cover.size).toBe(smallest(clashes));
      }),
      { numRuns: 300 },
    );
  });

  it('takes the one box that clashes with many', () => {
    const clashes = Array.from({ length: 1000 }, (_, index) => ({ left: ['desk'], right: [`cam-${index}`] }));
    expect([...leastCover(clashes)]).toEqual(['desk']);
  });

  it('stays fast on long chains, where matchings have to be turned over', () => {
    const length = 20_000;
    const clashes = Array.from({ length }, (_, index) => [
      { left: [`a${index}`], right: [`b${index}`] },
      { left: [`a${index + 1}`], right: [`b${index}`] },
    ]).flat();
    expect(leastCover(clashes).size).toBe(length);
  });
});
