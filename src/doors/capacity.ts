/** What the rules of the family `capacity` alone ask for, beside `rule.ts`. */
export { byCodeUnit } from '../collections/order.js';
export { fullLinkFindings, useMarks, useSubject } from '../lint/link-loads.js';
export { STANDARD_RTP_PAYLOAD_OCTETS } from '../media/packet.js';
export {
  aggregateUses,
  type Arrivals,
  arrivalsAt,
  type FloodedPorts,
  floodedPorts,
  type FloodReason,
  type FullPort,
  fullPorts,
  hangsOnAssumedTree,
  keyAssumed,
  type PassingStream,
  largePackets,
  type NarrowWay,
  narrowWays,
  type OpenCause,
  openCauses,
  openLinks,
  rerouted,
  type SlowRate,
  slowRates,
  sureBps,
  type ChosenEntries,
  tableUses,
  unsaidMtus,
} from '../model/network/index.js';
export { channelsWithin, mixedLimits, payloadOf, udpLimitOf, udpWithin } from '../model/streams/index.js';
export { chosenFacts, type ChosenFacts, chosenStreams, chosenWords, leaving } from '../words/chosen.js';
export {
  type CarriedFacts,
  type FullLinkFacts,
  type RateNote,
  atLeastWords,
  burdenWords,
  fillWords,
  floodWords,
  loadWords,
  rateLabel,
  roomWords,
  strayWords,
} from '../words/loads.js';
export { type NamedRate, rateWords, shareWords } from '../words/rates.js';
