/** Does each leg that a receiver takes get to it, and if not, or if nobody can tell, why? */
export { DELIVERED, DENIALS, type Denial, type Fate, type Lack, LACKS } from './fates.js';
export { areJoined, isOutside } from './places.js';
export { createJudge, type Judge, type JudgeModel } from './judge.js';
export { type MissingBindings, missingBindings, type MissingGroup } from './missing-bindings.js';
export { buildVerdicts, type Denied, type VerdictModel, type Verdicts } from './verdicts.js';
export { type Taker, type Unreached, type UnreachedWhy, whyUnreached } from './why.js';
