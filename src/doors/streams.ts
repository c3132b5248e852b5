/** What the rules of the family `streams` alone ask for, beside `rule.ts`. */
export { ascending } from '../collections/order.js';
export { touchOfCause } from '../lint/marks.js';
export { behindRouters } from '../model/streams/behind-routers.js';
export {
  type DescribedFact,
  type DescriptionDifference,
  descriptionDifferences,
} from '../model/streams/description-differences.js';
export { packetTimesDiffer } from '../model/streams/format-differences.js';
export { isControlType, misusesPayloadType } from '../model/streams/payload-types.js';
export type { UnusualNumbers } from '../model/streams/unusual-legs.js';
export { type WrittenOnce, writtenOnce } from '../model/written/written-once.js';
export type { Coding } from '../plan/types.js';
export { causeLegLabel } from '../words/labels.js';
