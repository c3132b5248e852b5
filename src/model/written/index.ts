/** What does the plan state, once or for many, and which names does it use? */
export { alikeNames, type AlikeNames, type AlikeThing, type NameDifference } from './alike-names.js';
export { doubledLost, type DoubledLost } from './doubled-lost.js';
export { leavesOut, type LeavesOut, type LeftOut } from './left-out.js';
export { deviceOfReferrer, kindOfReference, type LostName, lostNames } from './lost-names.js';
export { misnamed, type Misnamed, misnamedTwin } from './misnamed.js';
export { entriesNotInKind, type EntryList, type NotInKind } from './not-in-kind.js';
export { type NamedEntity, type NamedKind, type Namesakes, namesakes, type Scope } from './namesakes.js';
export {
  type NamedFormat,
  unusedFormats,
  unusedKinds,
  unusedNetworks,
  unusedVlans,
  usedFormats,
  usedNetworks,
  usedVlans,
} from './usage.js';
export { createRenamed, type Renamed } from './renamed.js';
export { byLine, createLineUsers, type KindLine } from './kind-lines.js';
export { kindThatWrites, type WrittenOnce, writtenOnce } from './written-once.js';
