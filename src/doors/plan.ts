/** What the rules of the family `plan` alone ask for, beside `rule.ts`. */
export { idleJoins, mergedVlans } from '../model/vlans/index.js';
export {
  alikeNames,
  type AlikeThing,
  createRenamed,
  deviceOfReferrer,
  doubledLost,
  entriesNotInKind,
  type EntryList,
  kindOfReference,
  leavesOut,
  type LeftOut,
  lostNames,
  misnamedTwin,
  type NameDifference,
  type NamedKind,
  type Namesakes,
  namesakes,
  unusedFormats,
  unusedKinds,
  unusedNetworks,
  unusedVlans,
} from '../model/written/index.js';
export type { Entity, Referrer, Unresolved, Wanted, WantedKind } from '../plan/types.js';
export { joinLabel } from '../words/labels.js';
export { referenceMark } from '../lint/reference-mark.js';
export { referrerLabel, wantedLabel, wantedLabels } from '../words/referrers.js';
