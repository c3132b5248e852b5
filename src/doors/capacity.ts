/** What the rules of the family `capacity` alone ask for, beside `rule.ts`. */
export { byCodeUnit } from '../collections/order.js';
export { fullLinkFindings, useMarks, useSubject } from '../lint/link-loads.js';
export { STANDARD_RTP_PAYLOAD_OCTETS } from '../media/packet.js';
export { type Arrivals, arrivalsAt } from '../model/network/arrivals.js';
export { type FloodReason, keyAssumed } from '../model/network/conduct.js';
export { type FloodedPorts, type FullPort, floodedPorts, fullPorts } from '../model/network/full-ports.js';
export { tableUses } from '../model/network/group-tables.js';
export { type NarrowWay, largePackets, narrowWays, unsaidMtus } from '../model/network/packet-sizes.js';
export { rerouted } from '../model/network/rerouted.js';
export { channelsWithin, payloadOf, udpLimitOf, udpWithin } from '../model/streams/datagrams.js';
export { mixedLimits } from '../model/streams/mixed-limits.js';
export {
  type CarriedFacts,
  type FullLinkFacts,
  type RateNote,
  burdenWords,
  carrierWords,
  fillWords,
  floodWords,
  loadWords,
  portsBySwitch,
  rateLabel,
  roomWords,
  strayWords,
} from '../words/loads.js';
export { type NamedRate, rateWords, shareWords } from '../words/rates.js';
