/** Who hears whom, in which format, and what does each stream send? */
export { behindRouters } from './behind-routers.js';
export { channelsWithin, isExtended, payloadOf, STANDARD_UDP_OCTETS, udpLimitOf, udpWithin } from './datagrams.js';
export {
  type DescribedFact,
  type DescriptionDifference,
  descriptionDifferences,
  type Said,
} from './description-differences.js';
export { type DoubledLegs, doubledLegs, doubledVlans } from './doubled-legs.js';
export { expectedDifferences, type FormatDifference, packetTimesDiffer } from './format-differences.js';
export { halfTaken, type HalfTaken } from './half-taken.js';
export { groupDiffers, legsSwapped, sourceDiffers } from './joins-elsewhere.js';
export { findWrongFormats, type WrongFormat, type WrongFormats } from './wrong-formats.js';
export { type Habit, lacksSecondLeg, type LacksSecondLeg } from './lacks-second-leg.js';
export { mixedLimits, type MixedLimits } from './mixed-limits.js';
export { isControlType, isSentByRtp, misusesPayloadType } from './payload-types.js';
export { createRates, type FlowRate, type Rates } from './rates.js';
export { type ReceiverClash, receiverClashes } from './receiver-clash.js';
export { buildReception, type Reception } from './reception.js';
export { isSilent, siblingStream, standsInConventions } from './silent-joins.js';
export { type BrokenPair, brokenPair, kindsThatBreakPairs, wrongSourceEntries } from './source-pairs.js';
export { type Make, type UnusualLegs, unusualLegs, type UnusualNumbers } from './unusual-legs.js';
