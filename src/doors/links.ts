/** What the rules of the family `links` alone ask for, beside `rule.ts`. */
export { kept } from '../collections/kept.js';
export { type OddMtu, type SizedPort, mtuEntity, oddMtus, oncePerEntry, smallPorts } from '../model/vlans/mtus.js';
export { rateDifference } from '../model/vlans/rate-differences.js';
export { linkEnds } from '../model/vlans/trunks.js';
