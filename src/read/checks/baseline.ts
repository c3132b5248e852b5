import schema from '../../../schemas/baseline.schema.json' with { type: 'json' };
import { compileLate } from './compile.js';

export const check = compileLate(schema);
