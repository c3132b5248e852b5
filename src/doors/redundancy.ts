/** What the rules of the family `redundancy` alone ask for, beside `rule.ts`. */
export { elementMarks, elementSubject, elementTouch, namedElement } from '../lint/failure-marks.js';
export { causeOf, onlyLeg } from '../lint/only-leg.js';
export { commonQueriers } from '../model/network/common-queriers.js';
export { type Fate, lonePoints, sharedCauses, streamsOf } from '../model/network/shared-fate.js';
export { type DoubledLegs, doubledLegs, doubledVlans } from '../model/streams/doubled-legs.js';
export { halfTaken } from '../model/streams/half-taken.js';
export { type Habit, lacksSecondLeg } from '../model/streams/lacks-second-leg.js';
export { type NamedElement, type SharedNote, elementLabel, sharedLabel } from '../words/failures.js';
