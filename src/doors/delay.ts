/** What the rules of the family `delay` alone ask for, beside `rule.ts`. */
export {
  type Chain,
  CONVERSATION_NS,
  DETECTABLE,
  foreignDomains,
  frameFamilies,
  type FrameFamily,
  INTERCOM_NS,
  LEAST_BUFFER_PACKETS,
  outside,
  OWN_VOICE_NS,
  PLANNING_LIMIT_NS,
  restsOnUsual,
  type RoundTripDelay,
  shortLinkOffsets,
  splitReferenceClocks,
  type StatedClock,
} from '../model/delay/index.js';
export { type Delay, delayWords, milliseconds } from '../words/times.js';
