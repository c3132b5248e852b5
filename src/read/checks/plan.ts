import schema from '../../../schemas/plan.schema.json' with { type: 'json' };
import { compileLate } from './compile.js';

export const check = compileLate(schema);
