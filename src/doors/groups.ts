/** What the rules of the family `groups` alone ask for, beside `rule.ts`. */
export { type LegSet, groupMark, groupSubject, legSets, otherMarks, setDraft } from '../lint/leg-sets.js';
export {
  aliasedClockGroup,
  assignedGroup4,
  assignedGroup6,
  brokenLegMap,
  wrongGroupEntries,
  type BrokenLegMap,
  brokenPromises,
  classifyGroup4,
  type EmbeddedPrefixFault,
  embeddedPrefixFault,
  embeddedUnicastPrefix,
  ethernetAddress,
  floodedEthernetAddress,
  formFaults6,
  glopAutonomousSystem,
  glopPrefix,
  type GroupBlock,
  groupFitness,
  essenceByGroup,
  homeNetworks,
  interfaceTowards,
  keyings,
  linkLocalAbroad,
  mayAlias,
  onOnePath,
  otherInterface,
  scopeFaults6,
  sendersApart,
  sendersClash,
  sharedByLegs,
  sharedEthernet,
  sharesSource,
  type StrayKind,
  type StrayVlan,
} from '../model/groups/index.js';
export { isUnspecified } from '../model/hosts/index.js';
export {
  type Destination,
  destinationsOf,
  type FreeMoves,
  freeMovesOf,
  secondLegGroup,
} from '../model/proposals/index.js';
export { type MissingGroup, missingBindings } from '../model/verdicts/index.js';
export type { ConventionGroups } from '../plan/types.js';
export { allCounted } from '../words/counts.js';
export { destinationWords, freeMoveWords } from '../words/destinations.js';
export { type GroupMoveFact, groupMoveWords, groupWords, promiseWords, withGroup } from '../words/groups.js';
