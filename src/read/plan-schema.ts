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

let check: ValidateFunction | undefined;

/** Every fault of a tree against `schemas/plan.schema.json`, in the order ajv finds them. */
export function schemaFaults(value: unknown): readonly SchemaFault[] {
  check ??= load();
  return check(value) ? [] : (check.errors ?? []);
}

export function readPlanSchema(): object {
  // The package root is one level up from src/ in the sources and two from dist/src/.
  for (const up of ['../../schemas/plan.schema.json', '../../../schemas/plan.schema.json']) {
    const path = fileURLToPath(new URL(up, import.meta.url));
    if (existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as object;
  }
  throw new Error('schemas/plan.schema.json is missing from the installation');
}

function load(): ValidateFunction {
  if (existsSync(COMPILED)) return createRequire(import.meta.url)(COMPILED) as ValidateFunction;
  return new Ajv(AJV_OPTIONS).compile(readPlanSchema());
}
