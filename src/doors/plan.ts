/** What the rules of the family `plan` alone ask for, beside `rule.ts`. */
export { idleJoins, mergedVlans } from '../model/vlans/join-faults.js';
export { type AlikeThing, type NameDifference, alikeNames } from '../model/written/alike-names.js';
export { deviceOfReferrer, kindOfReference, lostNames } from '../model/written/lost-names.js';
export { type NamedKind, type Namesakes, namesakes } from '../model/written/namesakes.js';
export { unusedFormats, unusedKinds, unusedNetworks, unusedVlans } from '../model/written/usage.js';
export type { Entity, Referrer, Unresolved, Wanted, WantedKind } from '../plan/types.js';
export { joinLabel } from '../words/labels.js';
export { referrerLabel, wantedLabel } from '../words/referrers.js';
