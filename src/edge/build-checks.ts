/**
 * Build step: puts the schemas' checking functions, as plain code, in the place of the built modules that would compile
 * them. They import nothing, so they start fast, a bundler can take them, and no code is made of text where they run.
 */
import { Ajv } from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { readText, writeText } from '../disk/text.js';
import { AJV_OPTIONS } from '../read/checks/compile.js';
import { quickCheckCode } from './quick-check.js';

/** Each schema with those it refers to. */
const SCHEMAS: Readonly<Record<string, readonly string[]>> = { plan: [], request: ['plan'], profile: [], baseline: [] };

/** Those of which there are large trees. */
const QUICK: ReadonlySet<string> = new Set(['plan']);

/** The one thing the code would take from a package: how many characters a text has. */
const LENGTH = /require\("ajv\/dist\/runtime\/ucs2length"\)\.default/g;

for (const [name, others] of Object.entries(SCHEMAS)) {
  const ajv = new Ajv({ ...AJV_OPTIONS, code: { source: true, optimize: true, esm: true } });
  ajv.addSchema(others.map(schemaOf));
  const code = standaloneCode.default(ajv, ajv.compile(schemaOf(name))).replace(LENGTH, '(text) => [...text].length');
  if (code.includes('require(')) throw new Error(`the check of ${name} asks for a package`);
  writeText(
    new URL(`../read/checks/${name}.js`, import.meta.url),
    `${code}\n${QUICK.has(name) ? quickCheckCode(schemaOf(name)) : 'const quick=()=>false;'}\nexport const check = (tree) => (quick(tree) || validate(tree) ? [] : validate.errors);\n`,
  );
}

function schemaOf(name: string): object {
  // Built, this module is in dist/src/edge/.
  return JSON.parse(readText(new URL(`../../../schemas/${name}.schema.json`, import.meta.url))) as object;
}
