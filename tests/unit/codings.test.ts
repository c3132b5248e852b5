/**
 * A coding is one file and an entry of the registry. What has to follow the registry is held here, and that nothing else
 * names a coding; UPDATE=1 writes the list of the schema anew.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CODINGS, codingNamed, type CodingDescriptor } from '../../src/media/codings/index.js';
import { parseFormat } from '../../src/media/parse-format.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const SCHEMA = `${ROOT}schemas/plan.schema.json`;
const ALL: readonly CodingDescriptor[] = CODINGS;
const NAMES = ALL.map(({ name }) => name);

describe('the registry of codings', () => {
  it('holds every file once, called by its name', () => {
    const files = readdirSync(`${ROOT}src/media/codings`).map((file) => file.replace(/\.ts$/, ''));
    const codings = files.filter((file) => file !== 'index' && file !== 'coding');
    expect([...NAMES].sort()).toEqual(codings.sort());
  });

  it('is the list of the schema', () => {
    const schema = JSON.parse(readFileSync(SCHEMA, 'utf8')) as {
      readonly definitions: { readonly coding: { enum: readonly string[] } };
    };
    if (process.env['UPDATE'] !== undefined) {
      schema.definitions.coding.enum = NAMES;
      writeFileSync(SCHEMA, `${JSON.stringify(schema, undefined, 2)}\n`);
    }
    expect(schema.definitions.coding.enum).toEqual(NAMES);
  });

  it('gives every word, and every encoding name of descriptions, to one coding', () => {
    for (const taken of [
      ALL.flatMap(({ said }) => said?.words ?? []),
      ALL.flatMap(({ sdp }) => sdp?.encodings ?? []),
    ]) {
      expect(taken).toEqual([...new Set(taken)]);
      expect(taken).toEqual(taken.map((name) => name.toLowerCase()));
    }
  });

  it('compares codings as one that is there', () => {
    for (const { comparedAs } of ALL) if (comparedAs !== undefined) expect(codingNamed(comparedAs)).toBeDefined();
  });

  it.each(ALL.flatMap(({ name, said }) => (said === undefined ? [] : [[name, said] as const])))(
    'reads the examples of %s as that coding',
    (name, { write, form }) => {
      for (const example of [write.replaceAll('`', ''), ...form.examples]) {
        const said = parseFormat(example);
        expect('problem' in said ? said.problem : said.format.coding, example).toBe(name);
      }
    },
  );
});

/** Modules that may write a name down, and why. */
const MAY_NAME: Readonly<Record<string, string>> = {
  'src/model/timing/profiles.ts': 'the media profile of AES67 is a PTP profile besides',
};

it('nothing else asks for a coding by name', () => {
  // `other` is a word of many lists.
  const names = NAMES.filter((name) => name !== 'other').map((name) => name.replaceAll('.', '\\.'));
  const literal = new RegExp(`['"\`](${names.join('|')})['"\`]|^\\s*(${names.join('|')}):`, 'm');
  const modules = ['src', 'rules'].flatMap((folder) =>
    readdirSync(`${ROOT}${folder}`, { recursive: true, encoding: 'utf8' }).map((file) => `${folder}/${file}`),
  );
  const naming = modules.filter(
    (path) =>
      path.endsWith('.ts') &&
      !path.startsWith('src/media/codings/') &&
      literal.test(readFileSync(`${ROOT}${path}`, 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, '')),
  );
  expect(naming).toEqual(Object.keys(MAY_NAME));
});
