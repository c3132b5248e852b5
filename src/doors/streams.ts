/** What the rules of the family `streams` alone ask for, beside `rule.ts`. */
export { ascending } from '../collections/order.js';
export { touchOfCause } from '../lint/marks.js';
export { createUnheld, takenWithoutAddress } from '../model/hosts/index.js';
export { endingEarly, sharedPorts, shortLived, silentFloods, withoutGateway } from '../model/network/index.js';
export {
  behindRouters,
  type DescribedFact,
  type DescriptionDifference,
  descriptionDifferences,
  isControlType,
  misusesPayloadType,
  packetTimesDiffer,
  type UnusualNumbers,
} from '../model/streams/index.js';
export { type WrittenOnce, writtenOnce } from '../model/written/index.js';
export type { Coding } from '../plan/types.js';
export { causeLegLabel } from '../words/labels.js';
