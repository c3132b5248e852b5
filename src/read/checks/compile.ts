/**
 * Schemas compiled when they are first used, which takes longer than linting a truck: only tests run from the sources do
 * so. The build puts a function compiled by then in the place of each module beside this one.
 */
import { Ajv, type Options, type ValidateFunction } from 'ajv';
import type { Check } from './check.js';

export const AJV_OPTIONS: Options = { allErrors: true, strict: true, allowUnionTypes: true, verbose: true };

/** `others` are schemas this one refers to. */
export function compileLate(schema: object, others: readonly object[] = []): Check {
  let validate: ValidateFunction | undefined;
  return (tree) => {
    validate ??= new Ajv(AJV_OPTIONS).addSchema([...others]).compile(schema);
    return validate(tree) ? [] : (validate.errors ?? []);
  };
}
