import plan from '../../../schemas/plan.schema.json' with { type: 'json' };
import schema from '../../../schemas/request.schema.json' with { type: 'json' };
import { compileLate } from './compile.js';

export const check = compileLate(schema, [plan]);
