/**
 * The schema as a checking function. The build stores the compiled function beside this module, because compiling the
 * schema takes longer than linting a truck; without it (tests from source) the schema is compiled here.
 */
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { Ajv, type ErrorObject, type Options, type ValidateFunction } from 'ajv';

export const COMPILED = fileURLToPath(new URL('./plan-schema.compiled.cjs', import.meta.url));

export const AJV_OPTIONS: Options = { allErrors: true, strict: true, allowUnionTypes: true, verbose: true };

export type SchemaFault = ErrorObject;

/** What a user writes: a plan, a request for one, how a house judges, what it has accepted. */
export type SchemaName = 'plan' | 'request' | 'profile' | 'baseline';

const checks = new Map<SchemaName, ValidateFunction>();

/** Every fault of a tree against the schema of that name in `schemas/`, in the order ajv finds them. */
export function schemaFaults(value: unknown, name: SchemaName = 'plan'): readonly SchemaFault[] {
  let check = checks.get(name);
  if (check === undefined) checks.set(name, (check = name === 'plan' ? loadPlan() : compile(name)));
  return check(value) ? [] : (check.errors ?? []);
}

export function readPlanSchema(): object {
  return readSchema('plan');
}

function readSchema(name: SchemaName): object {
  // The package root is one level up from src/ in the sources and two from dist/src/.
  for (const up of ['../../schemas/', '../../../schemas/']) {
    const path = fileURLToPath(new URL(`${up}${name}.schema.json`, import.meta.url));
    if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as object;
  }
  throw new Error(`schemas/${name}.schema.json is missing from the installation`);
}

/** Few of the others are read, so theirs is compiled when one is. */
function compile(name: SchemaName): ValidateFunction {
  return new Ajv(AJV_OPTIONS).addSchema(readSchema('plan')).compile(readSchema(name));
}

function loadPlan(): ValidateFunction {
  if (existsSync(COMPILED)) return createRequire(import.meta.url)(COMPILED) as ValidateFunction;
  return new Ajv(AJV_OPTIONS).compile(readPlanSchema());
}
