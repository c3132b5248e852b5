/** Which way does one stream go, why does each port carry it, and what would take it? */
import type { Finding } from '../lint/finding.js';
import type { LoadedPlan } from '../plan/load.js';
import { createModel, type Model } from '../model/model.js';
import { buildTrace, type Trace } from '../model/explain/index.js';
import type { Problem } from '../source/problem.js';
import { concerning } from './concerning.js';
import { unknownName, type UnknownName } from './unknown-name.js';

export interface TraceResult {
  /** Usually one; rigs judged together may each have a stream of the name. Empty when a part of the plan is missing. */
  readonly traces: readonly Trace[];
  /** What a lint of the plan found that concerns the stream; absent where no lint was given. */
  readonly findings?: readonly Finding[] | undefined;
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}

/** What a lint of the plan found, and the model it asked, where the caller has it: else it is made anew. */
export interface Judged {
  readonly findings: readonly Finding[];
  readonly model?: Model | undefined;
}

/** The way of the stream with this label, `cam-1/video`, and what `judged`, a lint of the same plan, found about it. */
export function traceStream(
  { plan, problems, whole }: LoadedPlan,
  name: string,
  judged?: Judged,
): TraceResult | UnknownName {
  if (!whole) return { traces: [], problems };
  const senders = plan.senders.filter((sender) => sender.label === name);
  if (senders.length === 0)
    return unknownName(
      name,
      plan.senders.map((sender) => sender.label),
    );
  const model = judged?.model ?? createModel(plan);
  const traces = senders.map((sender) => buildTrace(model, sender));
  return judged === undefined
    ? { traces, problems }
    : { traces, findings: concerning(traces, judged.findings), problems };
}
