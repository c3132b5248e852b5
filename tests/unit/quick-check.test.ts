/**
 * The check that only says whether a tree fits, held against the schema as Ajv reads it: it never takes a tree that the
 * schema refuses, and takes every plan that there is, or nobody would gain by it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { load as parseYaml } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { quickCheckCode } from '../../src/edge/quick-check.js';
import { AJV_OPTIONS } from '../../src/read/checks/compile.js';

const ROOT = new URL('../../', import.meta.url);
const SCHEMA = JSON.parse(readFileSync(new URL('schemas/plan.schema.json', ROOT), 'utf8')) as object;
const full = new Ajv(AJV_OPTIONS).compile(SCHEMA);
const quick = checkOf(SCHEMA);

function checkOf(schema: object): (tree: unknown) => boolean {
  // eslint-disable-next-line @typescript-eslint/no-implied-eval -- what the build writes into a file
  const make = new Function(`${quickCheckCode(schema)}return quick;`) as () => (tree: unknown) => boolean;
  return make();
}

function trees(folder: URL): readonly unknown[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => parseYaml(readFileSync(new URL(name, folder), 'utf8')))
    .filter((tree) => full(tree));
}

const PLANS = [...trees(new URL('rules/', ROOT)), ...trees(new URL('examples/', ROOT))];

/** Values a key may get in the place of its own: other types, edges of ranges, texts that patterns part on. */
const STRANGE = [
  ...[null, true, 0, -1, 1.5, 65535, 65536, 1e300, '', '/', 'a/b', '10G', '10 G', '1 ms', 'all', 'x'.repeat(201)],
  ...['\u0007', '😀', [], [[]], ['a', 1], {}, { name: 'a' }, { a: 1 }],
];

/** Every container of a tree. */
function containersOf(tree: unknown): readonly object[] {
  if (typeof tree !== 'object' || tree === null) return [];
  return [tree, ...Object.values(tree).flatMap(containersOf)];
}

describe('the quick check of a plan', () => {
  it('takes every plan of the rules and examples', () => {
    expect(PLANS.length).toBeGreaterThan(300);
    for (const plan of PLANS) expect(quick(plan)).toBe(true);
  });

  it('says what the schema says of plans with one value changed, added or taken out', () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...PLANS),
        fc.nat(),
        fc.nat(),
        fc.constantFrom(...STRANGE),
        fc.constantFrom('change', 'add', 'take out'),
        (plan, at, which, strange, how) => {
          const copy: unknown = structuredClone(plan);
          const containers = containersOf(copy);
          const container = containers[at % containers.length] as Record<string, unknown>;
          const keys = Object.keys(container);
          const key = keys[which % Math.max(1, keys.length)];
          if (how === 'add' || key === undefined) {
            if (Array.isArray(container)) container.push(strange);
            else container['unheardOf'] = strange;
          } else if (how === 'change') container[key] = strange;
          else if (Array.isArray(container)) container.splice(Number(key), 1);
          else Reflect.deleteProperty(container, key);
          const fits = full(copy);
          if (!fits) refused++;
          expect(quick(copy)).toBe(fits);
        },
      ),
      { numRuns: 3000 },
    );
    expect(refused).toBeGreaterThan(500);
  });

  it('leaves to the full check what it can only guess: signs of two units', () => {
    const twoSigns = checkOf({ type: 'string', minLength: 2 });
    expect(twoSigns('😀')).toBe(false); // one sign
    expect(twoSigns('abcd')).toBe(true);
    expect(checkOf({ type: 'string', maxLength: 3 })('😀😀')).toBe(false); // two signs, four units
  });

  it('refuses a schema that says more than it understands', () => {
    expect(() => quickCheckCode({ type: 'string', format: 'date' })).toThrow('format');
    expect(() => quickCheckCode({ anyOf: [{ type: 'string' }] })).toThrow('anyOf');
    expect(() =>
      quickCheckCode({
        type: 'object',
        properties: { a: { type: 'boolean' } },
        additionalProperties: { type: 'string' },
      }),
    ).toThrow('beside any others');
    expect(() => quickCheckCode({ $ref: '#/definitions/a', minLength: 1, definitions: {} })).toThrow('says more');
  });
});
