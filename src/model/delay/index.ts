/** How long do streams take, and do sound and picture meet? */
export {
  basisOf,
  type Budget,
  type DelayGap,
  type DelayItem,
  type DelayPart,
  type DelaySource,
  restsOnUsual,
} from './budget.js';
export type { Chain, Hop } from './chain.js';
export {
  buildDelays,
  type Delays,
  type LipSyncDelay,
  type LipSyncVerdict,
  type RoundTripDelay,
  type SpeechVerdict,
} from './delays.js';
export { frameFamilies, type FrameFamily, type RigFamilies } from './frame-families.js';
export {
  CONVERSATION_NS,
  DETECTABLE,
  INTERCOM_NS,
  LEAST_BUFFER_PACKETS,
  type LipSyncLimit,
  outside,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
} from './limits.js';
export { type ShortLinkOffset, shortLinkOffsets } from './link-offset.js';
export {
  type ForeignDomain,
  foreignDomains,
  type ForeignReceiver,
  type SplitReferenceClock,
  splitReferenceClocks,
  type StatedClock,
} from './reference-clock-faults.js';
