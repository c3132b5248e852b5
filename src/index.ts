/**
 * rigproof as a library: the same linter without the command line.
 *
 * ```ts
 * import { lint, readInputs, report, RULES } from 'rigproof';
 * const { inputs, problems } = readInputs(['plan.yaml']);
 * const result = lint(inputs, { today: '2026-06-01' }, problems);
 * console.log(report.text(result, { width: 100, colour: false }));
 * ```
 */
export * from './engine.js';
export { readInputs, type InputOptions, type Inputs } from './edge/files.js';
export { allocate, type Allocation, type Outcome } from './allocate/allocate.js';
export { groupReader, legendLines, type GroupReading } from './allocate/legend.js';
export { planText } from './allocate/plan-text.js';
export { rawRequest, readRequest, type RawRequest } from './allocate/request.js';
export { mergeRigs, type MergeOptions, type MergeResult, type Repaired } from './merge/merge.js';
export type { SideInput } from './merge/sides.js';
export { applySheet, sheetEdits } from './merge/apply.js';
export { reportMergeJson, reportMergeText } from './reporters/merge.js';
export { comparePlans } from './compare/compare.js';
export { orderSteps, type Order } from './compare/order.js';
export type * from './compare/steps.js';
export { createModel, type Model } from './model/model.js';
export { buildTrace, type Trace, type TraceModel } from './model/explain/trace.js';
export { buildFailureTable, elementsOf, type FailureModel, type FailureTable } from './model/explain/failure-table.js';
export { reportDelayJson, reportDelayText } from './reporters/delay.js';
export type { DelayResult } from './answers/delay.js';
export { reportTraceJson, reportTraceText } from './reporters/trace.js';
export type { TraceResult } from './answers/trace.js';
export {
  reportDiffJson,
  reportDiffText,
  reportSheetCsv,
  reportSheetJson,
  reportSheetText,
} from './reporters/change.js';
export type { DiffResult } from './answers/diff.js';
export { reportFailuresCsv, reportFailuresJson, reportFailuresText } from './reporters/failures.js';
export type { FailuresResult } from './answers/failures.js';
export { crewSheets, type CrewSheet, type SheetName } from './reporters/crew.js';
export { streamRate } from './media/stream-rate.js';
export { parseFormat } from './media/parse-format.js';
export type * from './plan/types.js';
