/** What the rules of the family `ports` alone ask for, beside `rule.ts`. */
export { portNames } from '../plan/port-names.js';
export { tooSlow } from '../model/network/index.js';
export { type PortUse, portUses } from '../model/vlans/index.js';
export type { RepeatedPort } from '../plan/types.js';
export { byLine, createLineUsers } from '../model/written/index.js';
