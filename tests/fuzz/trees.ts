/** Plans: examples with a few changes, and whatever the schema of plans allows. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { ADDRESSES, HOSTILE, PLANS } from './materials.js';
import { copyOf, drop, put, spotsOf, valueAt, type Json, type JsonObject } from './json.js';

interface Schema {
  readonly type?: string | readonly string[];
  readonly $ref?: string;
  readonly const?: Json;
  readonly enum?: readonly Json[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly items?: Schema;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly pattern?: string;
  readonly definitions?: Readonly<Record<string, Schema>>;
}

/** Few, so that references meet what they name. */
const NAMES = ['a', 'b', 'red', 'blue', 'video'];
const TEXTS: Readonly<Record<string, readonly Json[]>> = {
  name: NAMES,
  portName: [1, 2, '1-4', '1/1', 'a'],
  portReference: ['a/1', 'b/1', 'a/2', 'red/1/1', 'blue/3'],
  address: ADDRESSES,
  interfaceAddress: ADDRESSES,
  prefix: ADDRESSES.filter((one) => one.includes('/')),
  addressRange: ADDRESSES.filter((one) => /[-/]/.test(one)),
  groupRange: ADDRESSES,
  rate: ['1G', '10G', '25 Gbit/s', '0', '1', '100M', '99999999T'],
  time: ['1 ms', '125 us', '0 s', '1 ns', '99999999 s'],
  length: ['1 m', '1.5 km', '0 m', '99999999 km'],
  mac: ['02:00:5e:10:00:01', '01005e010101', 'ff-ff-ff-ff-ff-ff', '02:00:5e:10:00:02'],
};
const PLACES = ['a', 'a/video', 'b/a', 'red/video', 'a/a', 'b/video'];

export function schemaTrees(file: string): fc.Arbitrary<JsonObject> {
  const schema = JSON.parse(readFileSync(`schemas/${file}.schema.json`, 'utf8')) as Schema;
  const known = new Map<string, fc.Arbitrary<Json>>();
  const named = (ref: string): fc.Arbitrary<Json> => {
    const name = ref.replace('#/definitions/', '');
    const values = TEXTS[name];
    const found = known.get(name) ?? (values ? fc.constantFrom(...values) : valueOf(schema.definitions?.[name] ?? {}));
    known.set(name, found);
    return found;
  };
  const valueOf = (one: Schema): fc.Arbitrary<Json> => {
    if (one.$ref !== undefined) return named(one.$ref);
    if (one.const !== undefined) return fc.constant(one.const);
    if (one.enum !== undefined) return fc.constantFrom(...one.enum);
    const types = one.type === undefined ? ['string'] : typeof one.type === 'string' ? [one.type] : one.type;
    return fc.oneof(...types.map((type) => typed(one, type)));
  };
  const typed = (one: Schema, type: string): fc.Arbitrary<Json> => {
    if (type === 'object') return record(one);
    if (type === 'array') return fc.array(valueOf(one.items ?? {}), { maxLength: 3 });
    if (type === 'boolean') return fc.boolean();
    if (type === 'null') return fc.constant(null);
    const { minimum = 0, maximum = 1_000_000 } = one;
    if (type === 'integer' || type === 'number')
      return fc.oneof(
        fc.integer({ min: minimum, max: Math.min(maximum, minimum + 4) }),
        fc.constantFrom(minimum, maximum),
      );
    return one.pattern === undefined ? fc.constantFrom(...NAMES, ...PLACES) : patterned(one.pattern);
  };
  const record = ({ properties = {}, required = [], additionalProperties }: Schema): fc.Arbitrary<Json> => {
    const models = Object.fromEntries(Object.entries(properties).map(([key, value]) => [key, valueOf(value)]));
    if (Object.keys(models).length === 0 && typeof additionalProperties === 'object')
      return fc.dictionary(fc.constantFrom(...NAMES), valueOf(additionalProperties), { maxKeys: 3 });
    return fc.record(models, { requiredKeys: [...required] });
  };
  return record(schema) as fc.Arbitrary<JsonObject>;
}

/** Patterns of names and of `device/sender` meet what is named; all others are taken at their word. */
function patterned(pattern: string): fc.Arbitrary<Json> {
  return pattern.includes('u0000')
    ? fc.constantFrom(...PLACES)
    : fc.stringMatching(new RegExp(pattern), { maxLength: 12 });
}

const value: fc.Arbitrary<Json> = fc.oneof(
  fc.constantFrom(...HOSTILE),
  fc.constantFrom(...ADDRESSES),
  fc.constantFrom(...NAMES, ...PLACES),
  fc.integer({ min: -2, max: 70_000 }),
  fc.string({ unit: 'binary', maxLength: 8 }),
);

/** A change at some entry, or one that takes what stands at another. */
const change = fc.record({
  at: fc.nat(5000),
  from: fc.nat(5000),
  kind: fc.constantFrom('put', 'put', 'drop', 'copy', 'copy', 'twice', 'rename', 'key', 'swap'),
  value,
});
type Change = typeof change extends fc.Arbitrary<infer T> ? T : never;

export function mutated(trees: fc.Arbitrary<JsonObject>, most = 5): fc.Arbitrary<JsonObject> {
  return fc
    .tuple(trees, fc.array(change, { maxLength: most }))
    .map(([tree, changes]) => changes.reduce(changed, copyOf(tree)));
}

function changed(tree: JsonObject, { at, from, kind, value }: Change): JsonObject {
  const spots = spotsOf(tree);
  const spot = spots[at % Math.max(1, spots.length)];
  const other = spots[from % Math.max(1, spots.length)];
  if (spot === undefined || other === undefined) return tree;
  const { holder } = spot;
  const old = valueAt(spot);
  if (kind === 'put') put(spot, copyOf(value));
  else if (kind === 'drop') drop(spot);
  else if (kind === 'copy') put(spot, copyOf(valueAt(other)));
  else if (kind === 'swap') {
    const theirs = copyOf(valueAt(other));
    put(other, copyOf(old));
    put(spot, theirs);
  } else if (Array.isArray(holder)) holder.push(copyOf(old));
  else if (kind === 'key') put({ holder, key: typeof value === 'string' ? value : String(other.key) }, copyOf(old));
  else if (kind === 'rename') {
    drop(spot);
    put({ holder, key: String(other.key) }, old);
  }
  return tree;
}

export const examplePlans: fc.Arbitrary<JsonObject> = fc.constantFrom(...PLANS);

/** Several examples in one plan: lists one after the other, so that what they state meets. */
const together: fc.Arbitrary<JsonObject> = fc.tuple(examplePlans, examplePlans).map(([one, other]) => {
  const sum: Record<string, Json> = { ...one };
  for (const [key, more] of Object.entries(other)) {
    const have = sum[key];
    if (Array.isArray(have) && Array.isArray(more)) sum[key] = [...(have as Json[]), ...(more as Json[])];
    else sum[key] ??= more;
  }
  return sum;
});

export const planTrees: fc.Arbitrary<JsonObject> = fc.oneof(
  { weight: 3, arbitrary: mutated(examplePlans) },
  { weight: 2, arbitrary: mutated(together, 2) },
  { weight: 1, arbitrary: mutated(schemaTrees('plan'), 2) },
);
