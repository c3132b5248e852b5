/**
 * What the schema accepts is read: a plan with every key the schema knows is resolved behind proxies that note which keys
 * are asked for. A key that nobody reads would be taken from a user without a word and without effect.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { check } from '../../src/read/checks/plan.js';
import { textDocument } from '../../src/source/text-document.js';

interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly additionalProperties?: boolean | Schema;
}

const ROOT = JSON.parse(readFileSync(new URL('../../schemas/plan.schema.json', import.meta.url), 'utf8')) as Schema & {
  readonly definitions: Readonly<Record<string, Schema>>;
};

/** Keys the resolver leaves alone, and why. */
const UNREAD: Readonly<Record<string, string>> = {
  'plan.rigproof': 'the version of the format: the schema itself holds it',
  'plan.numbering': 'the book of an allocation: src/allocate/kept.ts reads it where numbers are kept',
};
/** Keys of a map that is taken whole, or of a part that is. */
const WITHIN = /^numbering\.|^practice\.dscp\./;
/** `about` is for people, wherever it stands. */
const FOR_PEOPLE = 'about';

/** Texts by the pattern that asks for them; every name is `a`, so that references lead somewhere. */
const TEXTS: Readonly<Record<string, string>> = {
  prefix: '10.0.0.0/8',
  addressRange: '239.0.0.0-239.0.0.255',
  address: '10.0.0.1',
  interfaceAddress: '10.0.0.1/24',
  rate: '1G',
  time: '1 ms',
  length: '1 m',
  mac: '02:00:5e:10:00:01',
  portReference: 'a/1',
};
/** Texts by key, where the schema has no definition for them. */
const BY_KEY: Readonly<Record<string, string>> = {
  takes: 'a/a',
  picture: 'a/a',
  sound: 'a/a',
  there: 'a/a',
  back: 'a/a',
  until: '2026-06-01',
  units: '1-2',
  rule: 'groups/two-senders',
};

interface Sampled {
  readonly tree: object;
  /** Which part of the schema an object of the tree follows. */
  readonly partOf: ReadonlyMap<object, string>;
  /** Every key there is: `switch.area`. */
  readonly keys: ReadonlySet<string>;
}

/** A plan with every key of the schema but `without`; every list has one entry, or as many as it must. */
function everyKey(without?: string): Sampled {
  const partOf = new Map<object, string>();
  const keys = new Set<string>();
  const tree = sample(ROOT, 'plan', '') as object;
  return { tree, partOf, keys };

  function sample(schema: Schema, part: string, key: string): unknown {
    if (schema.$ref !== undefined) {
      const name = schema.$ref.split('/').at(-1) ?? '';
      const known = TEXTS[name];
      if (known !== undefined) return known;
      return sample(ROOT.definitions[name] ?? {}, name, key);
    }
    if (schema.const !== undefined) return schema.const;
    if (schema.enum !== undefined) return schema.enum[0];
    const types = typeof schema.type === 'string' ? [schema.type] : (schema.type ?? []);
    if (schema.properties !== undefined) return object(schema.properties, part);
    if (types.includes('object')) return {};
    if (types.includes('array'))
      return Array.from({ length: schema.minItems ?? 1 }, () => sample(schema.items ?? {}, part, key));
    if (types.includes('boolean')) return true;
    if (types.includes('number') || types.includes('integer')) return Math.max(1, schema.minimum ?? 1);
    return BY_KEY[key] ?? 'a';
  }

  function object(properties: Readonly<Record<string, Schema>>, part: string): object {
    const made: Record<string, unknown> = {};
    partOf.set(made, part);
    for (const [key, schema] of Object.entries(properties)) {
      keys.add(`${part}.${key}`);
      if (`${part}.${key}` === without) continue;
      made[key] = sample(schema, schema.$ref === undefined ? `${part}.${key}` : part, key);
    }
    return made;
  }
}

/** The tree behind proxies, alike for alike, that note every key asked for. */
function watched(tree: object, partOf: ReadonlyMap<object, string>, asked: Set<string>): object {
  const proxies = new Map<object, object>();
  const watch = (value: object): object => {
    const known = proxies.get(value);
    if (known !== undefined) return known;
    const part = partOf.get(value);
    const copied = new Set<string | symbol>();
    const proxy = new Proxy(value, {
      get(target, key, receiver) {
        if (part !== undefined && typeof key === 'string' && !copied.delete(key)) asked.add(`${part}.${key}`);
        const inner: unknown = Reflect.get(target, key, receiver);
        return typeof inner === 'object' && inner !== null ? watch(inner) : inner;
      },
      ownKeys(target) {
        // Who copies all keys has read none of them.
        for (const key of Reflect.ownKeys(target)) copied.add(key);
        return Reflect.ownKeys(target);
      },
    });
    proxies.set(value, proxy);
    return proxy;
  };
  return watch(tree);
}

/** Legs, of which there are most, read what they say when they are asked. */
function askAll(leg: object): void {
  for (const name of Object.getOwnPropertyNames(Object.getPrototypeOf(leg) as object)) Reflect.get(leg, name);
}

describe('a plan with every key of the schema', () => {
  const { tree, keys } = everyKey();
  const asked = new Set<string>();
  // Some keys are asked for only where another is left out, so each is, once.
  for (const without of [undefined, ...keys]) {
    const { tree: part, partOf } = everyKey(without);
    if (check(part).length > 0) continue; // a key that must be there
    const value = watched(part, partOf, asked);
    const document = textDocument({ name: 'plan.yaml', format: 'yaml', text: '', value, spans: () => new Map() });
    const { plan } = resolvePlan([document]);
    for (const leg of [...plan.legs, ...plan.receiverLegs]) askAll(leg);
  }

  it('is one the schema accepts', () => {
    expect(check(tree)).toEqual([]);
    expect(keys.size).toBeGreaterThan(200);
  });

  it('is read whole', () => {
    const unread = [...keys].filter((key) => !asked.has(key) && !key.endsWith(`.${FOR_PEOPLE}`));
    const reasonless = unread.filter((key) => UNREAD[key] === undefined && !WITHIN.test(key));
    expect(reasonless).toEqual([]);
    expect(
      Object.keys(UNREAD).filter((key) => !unread.includes(key)),
      'read by now: take it out',
    ).toEqual([]);
    expect(asked.has('waiver.subject')).toBe(true);
  });

  it('would not hide a key that is only copied', () => {
    const seen = new Set<string>();
    const whole = watched(tree, everyKey().partOf, seen);
    const inner = { switch: 1 };
    const one = watched(inner, new Map([[inner, 'part']]), seen) as typeof inner;
    expect({ ...one }).toEqual(inner);
    expect([...seen]).toEqual([]);
    expect(one.switch).toBe(1);
    expect([...seen, Reflect.get(whole, 'rig')]).toEqual(['part.switch', 'a']);
  });
});
