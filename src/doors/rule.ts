/** What rules of several families ask for, convention rules among them: the public `rigproof/rule`. */
export { imageOf, type WrongEntry } from '../model/groups/index.js';
export { createFreeBlocks, freeStretch, movesOf, type Moves } from '../model/proposals/index.js';
export { moveWords } from '../words/destinations.js';
export { groupBy } from '../collections/group-by.js';
export { type NonEmpty, isNonEmpty, lastOf, mapAll } from '../collections/non-empty.js';
export { byLabel } from '../collections/order.js';
export { type Citation, clause, clauseFromMemory, commonPractice } from '../lint/citation.js';
export type { Confidence, FindingDraft, FindingWords, Mark, Severity, Touch, TouchKind } from '../lint/finding.js';
export { heldFact, heldMark, touchOfOwner, vlanSubject } from '../lint/held-marks.js';
export { lackingMarks } from '../lint/lacking-marks.js';
export { inRig } from '../lint/leg-sets.js';
export { mark, noted, otherPlaces, sourceMark, touchOf, touchOfKind } from '../lint/marks.js';
export { type Rule, type RuleContext, type Threshold, type WaiverUse, defineRule } from '../lint/rule.js';
export { segmentSubject, settingWith } from '../lint/segments.js';
export type { FactKey } from '../model/facts.js';
export {
  addressClashes,
  forwards,
  type Held,
  heldLabel,
  isInterface,
  isLinkLocal,
  type Owner,
  ownerLabel,
  rigOf,
  routerAddress,
  subnetFor,
  subnetKey,
} from '../model/hosts/index.js';
export type { Model } from '../model/model.js';
export { apartRouters, createFillsPorts, PORT_SHARE, querierPlaces, whileUnqueried } from '../model/network/index.js';
export { type Domain, linkLabel, mayCarry, otherEntries, portLabel, sharedVlans } from '../model/vlans/index.js';
export { isSentByRtp } from '../model/streams/index.js';
export { kindThatWrites } from '../model/written/index.js';
export { eachInput } from '../plan/inputs.js';
export type {
  Device,
  Format,
  Interface,
  Kind,
  Leg,
  Link,
  Network,
  Plan,
  Port,
  Receiver,
  ReceiverLeg,
  Rig,
  Sender,
  Switch,
  Vlan,
  Waiver,
} from '../plan/types.js';
export {
  type Address,
  formatAddress,
  formatPrefix,
  formatRange,
  inPrefix,
  isIPv4,
  networkOf,
  overlaps,
  type Prefix,
  rangeOf,
} from '../values/address.js';
export { formatMac } from '../values/mac.js';
export { formatRate, formatTime } from '../values/quantity.js';
export { carrierWords, portsBySwitch } from '../words/loads.js';
export { agree, counted } from '../words/counts.js';
export { groupsOf } from '../words/groups.js';
export type { HeldFact } from '../words/held.js';
export { legLabel, ofRig, receiverLegLabel, withId, withRig } from '../words/labels.js';
export { listNames, listOr, nothingOf } from '../words/lists.js';
export { entityLabel } from '../words/plain-facts.js';
export { portRanges } from '../words/port-ranges.js';
export { QUERIER_WANTED, hostLabel, snoopingWords } from '../words/segments.js';
