/** Build step: stores the schema's checking function as code beside `plan-schema.js`. */
import { writeFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { AJV_OPTIONS, COMPILED, readPlanSchema } from './plan-schema.js';

const ajv = new Ajv({ ...AJV_OPTIONS, code: { source: true, optimize: true } });
writeFileSync(COMPILED, standaloneCode.default(ajv, ajv.compile(readPlanSchema())));
