import type { Trace } from '../../model/explain/trace.js';
import type { Problem } from '../../source/problem.js';

/** What a trace report is made from. */
export interface TraceResult {
  /** Usually one; rigs judged together may each have a stream of the name. Empty when a part of the plan is missing. */
  readonly traces: readonly Trace[];
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}
