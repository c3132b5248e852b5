/** Lists in words are joined once: names with commas and conjunctions of their own come out as they are. */
import { describe, expect, it } from 'vitest';
import { listNames, listOr, nothingOf } from '../../src/words/lists.js';
import { portRanges } from '../../src/words/port-ranges.js';

const NAMES = ['light and sound', 'wide, tight and high', 'this or that'];

describe('lists of names', () => {
  it('keep the conjunctions that names hold', () => {
    expect(listNames(NAMES)).toBe('light and sound, wide, tight and high and this or that');
    expect(listOr(NAMES)).toBe('light and sound, wide, tight and high or this or that');
    expect(listOr(['light and sound'])).toBe('light and sound');
    expect(portRanges(NAMES)).toBe('light and sound, this or that and wide, tight and high');
  });

  it.each(['and', 'or'] as const)('hold every name as it is, with %s', (conjunction) => {
    for (const count of [1, 2, 3]) {
      const list = listNames(NAMES.slice(0, count), 6, conjunction);
      for (const name of NAMES.slice(0, count)) expect(list).toContain(name);
    }
  });

  it('count what is past the most names', () => {
    const many = Array.from({ length: 9 }, (_, index) => `cam-${index + 1}`);
    expect(listNames(many)).toBe('cam-1, cam-2, cam-3, cam-4, cam-5, cam-6 and 3 more');
    expect(listOr(many, 2)).toBe('cam-1, cam-2 or 7 more');
    expect(listNames([])).toBe('');
  });
});

describe('what is missing', () => {
  it('is said of each essence once', () => {
    const missing = (...essences: readonly ('video' | 'audio' | 'data')[]): string =>
      nothingOf(essences.map((essence) => ({ essence, format: undefined })));
    expect(missing('video')).toBe('no picture');
    expect(missing('audio', 'video')).toBe('no picture or sound');
    expect(missing('data', 'audio', 'video')).toBe('no picture, sound or data');
    expect(missing()).toBe('no picture or sound');
  });
});
