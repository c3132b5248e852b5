/** Why does a port carry a stream, and what does each failure take, row by row? */
export type { Why } from './carry-why.js';
export {
  buildFailureTable,
  elementsOf,
  type FailureRow,
  type FailureTable,
  type Overload,
  type StreamHit,
  takesOffAir,
  type Unjudged,
  type UnjudgedWhy,
} from './failure-table.js';
export type { Hop, LinkHop, PortHop, SwitchHop } from './trace-hops.js';
export type { Loss } from './trace-losses.js';
export { buildTrace, type LegTrace, type Stage, type Trace } from './trace.js';
