/** What the rules of the family `groups` alone ask for, beside `rule.ts`. */
export { type LegSet, groupMark, groupSubject, legSets, otherMarks, setDraft } from '../lint/leg-sets.js';
export { brokenLegMap } from '../model/groups/broken-leg-map.js';
export { macKeyedSwitches, mayAlias, sharedEthernet } from '../model/groups/ethernet-use.js';
export { formFaults6, groupFitness, scopeFaults6 } from '../model/groups/group-fitness.js';
export { brokenPromises, homeNetworks, interfaceTowards } from '../model/groups/house-groups.js';
export { linkLocalAbroad } from '../model/groups/link-local-abroad.js';
export { assignedGroup4 } from '../model/groups/multicast-space/assigned4.js';
export { assignedGroup6 } from '../model/groups/multicast-space/assigned6.js';
export { type GroupBlock, classifyGroup4 } from '../model/groups/multicast-space/blocks4.js';
export {
  type EmbeddedPrefixFault,
  embeddedPrefixFault,
  embeddedUnicastPrefix,
  glopAutonomousSystem,
  glopPrefix,
} from '../model/groups/multicast-space/derived4.js';
export {
  aliasedClockGroup,
  ethernetAddress,
  floodedEthernetAddress,
} from '../model/groups/multicast-space/ethernet.js';
export { sendersClash } from '../model/groups/senders-clash.js';
export { onOnePath, otherInterface, sharedByLegs, sharesSource } from '../model/groups/shared-by-legs.js';
export type { StrayKind, StrayVlan } from '../model/groups/strays.js';
export { isUnspecified } from '../model/hosts/special-purpose.js';
export {
  type Destination,
  type FreeMoves,
  type Moves,
  destinationsOf,
  freeMovesOf,
  movesOf,
} from '../model/proposals/destinations.js';
export { secondLegGroup } from '../model/proposals/second-leg.js';
export type { HouseGroups } from '../plan/types.js';
export { destinationWords, freeMoveWords, moveWords } from '../words/destinations.js';
export { groupWords, promiseWords, withGroup } from '../words/groups.js';
