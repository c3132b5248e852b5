import schema from '../../../schemas/profile.schema.json' with { type: 'json' };
import { compileLate } from './compile.js';

export const check = compileLate(schema);
