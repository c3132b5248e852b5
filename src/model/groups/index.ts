/** Which groups are used where, by whom, and may they be? */
export { brokenLegMap, type BrokenLegMap, wrongGroupEntries } from './broken-leg-map.js';
export { keyings, type Keying, mayAlias, sharedEthernet, type SharedEthernet } from './ethernet-use.js';
export {
  buildMisplaced,
  formFaults6,
  groupFitness,
  type GroupFitness,
  type Misplacement,
  scopeFaults6,
} from './group-fitness.js';
export { findGroupRepeats, type GroupRepeats } from './group-repeats.js';
export { buildGroupIndex, type GroupIndex, type GroupUse } from './group-use.js';
export {
  brokenPromises,
  buildHeldTo,
  commonRanges,
  essenceByGroup,
  homeNetworks,
  interfaceTowards,
  keepsPromise,
} from './convention-groups.js';
export { imageOf, preimageOf } from './leg-map.js';
export { linkLocalAbroad } from './link-local-abroad.js';
export { type AssignedGroup, assignedGroup4 } from './multicast-space/assigned4.js';
export { assignedGroup6, type AssignedGroup6 } from './multicast-space/assigned6.js';
export { classifyGroup4, type GroupBlock, type GroupBlockKind } from './multicast-space/blocks4.js';
export {
  type EmbeddedPrefixFault,
  embeddedPrefixFault,
  embeddedUnicastPrefix,
  glopAutonomousSystem,
  glopPrefix,
} from './multicast-space/derived4.js';
export { aliasedClockGroup, ethernetAddress, floodedEthernetAddress } from './multicast-space/ethernet.js';
export { embeddedRendezvousPoint6 } from './multicast-space/index.js';
export { type GroupProblem6, type GroupProblemKind6, groupProblems6 } from './multicast-space/problems6.js';
export { isSourceSpecific } from './multicast-space/source-specific.js';
export { sendersApart, sendersClash } from './senders-clash.js';
export { onOnePath, otherInterface, sharedByLegs, sharesSource } from './shared-by-legs.js';
export {
  FILTERING_VERSION,
  filtersSources,
  isSourceSpecificFor,
  severalToldApart,
  toldApartBySource,
} from './source-filter.js';
export { buildStrays, type StrayFact, type StrayKind, type Strays, type StrayVlan } from './strays.js';
export { type LegPair, type WrongEntry, wrongEntries } from './wrong-entries.js';
