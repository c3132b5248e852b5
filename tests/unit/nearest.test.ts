/** The nearest right word, against the definition of the distance written out: edits and swaps of neighbours, each once. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allNearest, nearest, nearestSlip } from '../../src/collections/nearest.js';

/** Optimal string alignment distance by its recursive definition (L. Boytsov, ACM JEA 16, 2011, section 2.2). */
function distance(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const [restA, restB] = [a.slice(1), b.slice(1)];
  if (a[0] === b[0]) return distance(restA, restB);
  const swapped = a[0] === b[1] && a[1] === b[0] ? distance(a.slice(2), b.slice(2)) : Infinity;
  return 1 + Math.min(distance(restA, b), distance(a, restB), distance(restA, restB), swapped);
}

const WORD = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), minLength: 1, maxLength: 7 });

describe('the nearest right word', () => {
  it('is what the definition of the distance says', () => {
    let found = 0;
    fc.assert(
      fc.property(WORD, fc.array(WORD, { maxLength: 6 }), (text, candidates) => {
        const most = Math.max(1, Math.floor(text.length / 3));
        const distances = candidates.map((one) => distance(text, one));
        const least = Math.min(...distances);
        const expected = least > most ? [] : candidates.filter((_, index) => distances[index] === least);
        found += expected.length;
        expect(allNearest(text, candidates)).toEqual(expected);
      }),
      { numRuns: 500 },
    );
    expect(found).toBeGreaterThan(100);
  });

  it('takes neighbours that swapped places as one slip, at the end of a word too', () => {
    expect(nearest('video-1', ['video-2', 'vdieo-1'])).toBe('video-2');
    expect(nearest('vidoe', ['audio', 'video'])).toBe('video');
    expect(nearest('vidoe', ['radio'])).toBeUndefined();
  });
});

describe('the one word a slip away', () => {
  it.each([
    ['ST 2095-2', 'ST 2059-2'],
    ['AES76', 'AES67'],
    ['AES6', 'AES67'],
    ['aes67', 'AES67'],
    ['ST 2110-2', undefined],
    ['G.8275.1', undefined],
  ])('of %s is %s', (text, meant) => {
    expect(nearestSlip(text, ['ST 2059-2', 'AES67'])).toBe(meant);
  });

  it('is none where two are as near', () => {
    expect(nearestSlip('cam-3', ['cam-1', 'cam-2'])).toBeUndefined();
  });
});
