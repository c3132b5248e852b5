/** What the rules of the family `receivers` alone ask for, beside `rule.ts`. */
export { eachInputLeg } from '../plan/inputs.js';
export type { GroupUse } from '../model/groups/index.js';
export { sentElsewhere } from '../model/network/index.js';
export {
  type FormatDifference,
  groupDiffers,
  isSilent,
  legsSwapped,
  type ReceiverClash,
  receiverClashes,
  siblingStream,
  sourceDiffers,
  standsInConventions,
  type WrongFormat,
} from '../model/streams/index.js';
export { memberTitle } from '../words/formats.js';
