/** What the rules of the family `delay` alone ask for, beside `rule.ts`. */
export type { Chain } from '../model/delay/chain.js';
export { type FrameFamily, frameFamilies } from '../model/delay/frame-families.js';
export type { RoundTripDelay } from '../model/delay/index.js';
export {
  CONVERSATION_NS,
  DETECTABLE,
  INTERCOM_NS,
  LEAST_BUFFER_PACKETS,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
  outside,
} from '../model/delay/limits.js';
export { shortLinkOffsets } from '../model/delay/link-offset.js';
export { type StatedClock, foreignDomains, splitReferenceClocks } from '../model/delay/reference-clock-faults.js';
export { type Delay, delayWords, milliseconds } from '../words/times.js';
