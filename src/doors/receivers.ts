/** What the rules of the family `receivers` alone ask for, beside `rule.ts`. */
export type { GroupUse } from '../model/groups/group-use.js';
export { type FormatDifference, expectedDifferences } from '../model/streams/format-differences.js';
export { groupDiffers, legsSwapped, sourceDiffers } from '../model/streams/joins-elsewhere.js';
export { type ReceiverClash, receiverClashes } from '../model/streams/receiver-clash.js';
export { isSilent, siblingStream, standsInHouse } from '../model/streams/silent-joins.js';
export { memberTitle } from '../words/formats.js';
