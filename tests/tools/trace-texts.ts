/** What the tests of traces share: a rig of the examples, and a trace as text. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { reportTraceText } from '../../src/reporters/trace.js';
import { modelOf, traceOf } from '../tools/network-plans.js';

export const HERON = fileURLToPath(new URL('../../examples/kestrel-bay/heron', import.meta.url));
/** Names of the plan in small; each part of a reference is one. */
export const NAMES = /^(vision|tower|P1|red-video|1080p50|lake cable|in-31|cam-31|video)$/;
export const PLAIN = { version: '0.1.0', width: 90, colour: false };
export const SCHEMA = JSON.parse(
  readFileSync(new URL('../../schemas/trace.schema.json', import.meta.url), 'utf8'),
) as object;
export const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);

export function text(plan: string, label: string, width = 90): string {
  return reportTraceText({ traces: [traceOf(modelOf(plan), label)], problems: [] }, { ...PLAIN, width });
}
