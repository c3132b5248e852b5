/** What the rules of the family `sources` alone ask for, beside `rule.ts`. */
export { groupProblems6 } from '../model/groups/multicast-space/problems6.js';
export { filtersSources, isSourceSpecificFor, toldApartBySource } from '../model/groups/source-filter.js';
export { type SourceFault, sourceFault } from '../model/hosts/source-address.js';
export { type BrokenPair, brokenPair, kindsThatBreakPairs } from '../model/streams/source-pairs.js';
