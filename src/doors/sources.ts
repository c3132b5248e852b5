/** What the rules of the family `sources` alone ask for, beside `rule.ts`. */
export { firstOfEach } from '../collections/non-empty.js';
export { filtersSources, groupProblems6, isSourceSpecificFor, toldApartBySource } from '../model/groups/index.js';
export { type SourceFault, sourceFault } from '../model/hosts/index.js';
export { type BrokenPair, brokenPair, kindsThatBreakPairs, wrongSourceEntries } from '../model/streams/index.js';
