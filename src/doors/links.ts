/** What the rules of the family `links` alone ask for, beside `rule.ts`. */
export {
  linkRate,
  mixedMethods,
  openLoops,
  type PartedAggregate,
  partedAggregates,
  rootsByAddress,
  sideBySide,
  unlikeMembers,
} from '../model/network/index.js';
export { kept } from '../collections/kept.js';
export {
  createCuts,
  type Cut,
  linkDifference,
  linkEnds,
  mtuEntity,
  type OddMtu,
  oddMtus,
  oncePerEntry,
  rateDifference,
  type SizedPort,
  smallPorts,
} from '../model/vlans/index.js';
