/** A key that stands twice in one entry of a JSON file is found, and no other is taken for one (RFC 8259 §4). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJson } from '../../src/read/json.js';

/** Keys and texts with the signs that a count of colons and quotes could stumble over. */
const word = fc.constantFrom('a', 'b', ':', '":', '::1', '\\', '\\"', 'a:b', '"', ' :', '\n', 'é', '02:00:5e:10:00:01');
const space = fc.constantFrom('', '', ' ', '\n', '\t ', '\r\n');

interface Written {
  readonly text: string;
  readonly twice: boolean;
}

const plain: fc.Arbitrary<Written> = fc
  .oneof(word, fc.integer(), fc.boolean(), fc.constant(null))
  .map((value) => ({ text: JSON.stringify(value), twice: false }));

const { tree } = fc.letrec<{ tree: Written; list: Written; mapping: Written }>((tie) => ({
  tree: fc.oneof({ maxDepth: 4, withCrossShrink: true }, plain, tie('list'), tie('mapping')),
  list: fc.array(tie('tree'), { maxLength: 3 }).map((items) => ({
    text: `[${items.map(({ text }) => text).join(',')}]`,
    twice: items.some(({ twice }) => twice),
  })),
  mapping: fc.array(fc.tuple(word, space, space, tie('tree')), { maxLength: 4 }).map((entries) => ({
    text: `{${entries.map(([key, before, after, { text }]) => `${JSON.stringify(key)}${before}:${after}${text}`).join(',')}}`,
    twice: new Set(entries.map(([key]) => key)).size < entries.length || entries.some(([, , , { twice }]) => twice),
  })),
}));

describe('keys of a JSON file', () => {
  it('are said to stand twice exactly where they do', () => {
    let found = 0;
    fc.assert(
      fc.property(tree, ({ text, twice }) => {
        const { document, problems } = readJson('plan.json', text);
        if (twice) found++;
        expect(document === undefined).toBe(twice);
        expect(problems.map(({ what }) => /stands twice/.test(what))).toEqual(twice ? [true] : []);
      }),
      { numRuns: 3000 },
    );
    expect(found).toBeGreaterThan(200);
  });
});
