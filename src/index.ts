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
import { RULES } from '../rules/index.js';
import { lintInputs } from './lint/lint.js';
import type { LintResult } from './lint/result.js';
import type { Rule } from './lint/rule.js';
import type { LintOptions } from './lint/run.js';
import type { Input } from './read/index.js';
import type { Problem } from './source/problem.js';

/** Lints inputs with the built-in rules, or with `rules`. */
export function lint(
  inputs: readonly Input[],
  options: LintOptions & { readonly rules?: readonly Rule[] },
  problems: readonly Problem[] = [],
): LintResult {
  return lintInputs(inputs, options.rules ?? RULES, options, problems);
}

export { RULES };
export { lintPlan, type LintOptions } from './lint/run.js';
export { loadPlan, type LoadedPlan } from './lint/lint.js';
export { readInputs, type Inputs } from './read/files.js';
export type { Input } from './read/index.js';
export type { LintResult } from './lint/result.js';
export type { Finding, LabelledLocation, Severity } from './lint/finding.js';
export type { Rule, RuleContext } from './lint/rule.js';
export { baselineOf, formatBaseline, readBaseline, type Baseline } from './lint/baseline.js';
export { readProfile, type Profile } from './lint/profile.js';
export { REPORTERS as report } from './reporters/lint.js';
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
export type { DelayResult } from './report/delay/result.js';
export { reportTraceJson, reportTraceText } from './reporters/trace.js';
export type { TraceResult } from './report/trace/result.js';
export {
  reportDiffJson,
  reportDiffText,
  reportSheetCsv,
  reportSheetJson,
  reportSheetText,
} from './reporters/change.js';
export type { DiffResult } from './report/change/diff-result.js';
export { reportFailuresCsv, reportFailuresJson, reportFailuresText } from './reporters/failures.js';
export type { FailuresResult } from './report/failures/result.js';
export { crewSheets, type CrewSheet, type SheetName } from './reporters/crew.js';
export { streamRate } from './media/stream-rate.js';
export { parseFormat } from './media/parse-format.js';
export type * from './plan/types.js';
