/** What the rules of the family `redundancy` alone ask for, beside `rule.ts`. */
export { eachOnce } from '../plan/inputs.js';
export { elementMarks, elementSubject, elementTouch, namedElement } from '../lint/failure-marks.js';
export { causeOf, onlyLeg } from '../lint/only-leg.js';
export { commonQueriers, type Fate, lonePoints, sharedCauses, sharedWays, streamsOf } from '../model/network/index.js';
export {
  type DoubledLegs,
  doubledLegs,
  doubledVlans,
  type Habit,
  halfTaken,
  lacksSecondLeg,
} from '../model/streams/index.js';
export { type NamedElement, type SharedNote, elementLabel, sharedLabel } from '../words/failures.js';
