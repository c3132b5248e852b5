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
export { reportMergeJson } from './report/merge-json.js';
export { reportMergeText } from './report/merge-text.js';
export { comparePlans } from './compare/compare.js';
export { orderSteps, type Order } from './compare/order.js';
export type * from './compare/steps.js';
export { createModel, type Model } from './model/model.js';
export { buildTrace, type Trace, type TraceModel } from './model/explain/trace.js';
export { buildFailureTable, elementsOf, type FailureModel, type FailureTable } from './model/explain/failure-table.js';
export { reportDelayJson } from './report/delay-json.js';
export { reportDelayText } from './report/delay-text.js';
export type { DelayResult } from './report/delay-result.js';
export { reportTraceJson } from './report/trace-json.js';
export { reportTraceText } from './report/trace-text.js';
export type { TraceResult } from './report/trace-result.js';
export { reportDiffJson } from './report/diff-json.js';
export { reportDiffText, type DiffResult } from './report/diff-text.js';
export { reportSheetCsv } from './report/sheet-csv.js';
export { reportSheetJson } from './report/sheet-json.js';
export { reportSheetText } from './report/sheet-text.js';
export { reportFailuresCsv } from './report/failures-csv.js';
export { reportFailuresJson } from './report/failures-json.js';
export { reportFailuresText } from './report/failures-text.js';
export type { FailuresResult } from './report/failures-result.js';
export { crewSheets, type CrewSheet, type SheetName } from './report/crew/index.js';
export { streamRate } from './media/stream-rate.js';
export { parseFormat } from './media/parse-format.js';
export type * from './plan/types.js';
