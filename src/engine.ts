/**
 * The engine: all that reads, answers and reports, without a disk, a clock or any module of Node. A bundler takes it as it
 * is, for a page in a browser too. README.md shows it in use.
 */
import { RULES } from '../rules/index.js';
import type { Rule } from './lint/rule.js';
import type { LintResult } from './lint/result.js';
import type { LintOptions } from './lint/run.js';
import { lintLoaded } from './lint/lint.js';
import { mendPlan, type MendOptions, type MendResult } from './mend/mend.js';
import { mergeRigs, type MergeOptions, type MergeResult } from './merge/merge.js';
import { loadPlan, type Inputs, type LoadedPlan } from './plan/load.js';

/** Other rules than the built-in ones. */
export interface RuleChoice {
  readonly rules?: readonly Rule[];
}

/** Reads and resolves inputs. What could not be opened belongs to them: a plan with a part missing is not whole. */
export function load({ inputs, problems }: Inputs): LoadedPlan {
  return loadPlan(inputs, problems);
}

/** Judges a plan. Nothing is judged where a part is missing, which would raise false alarms: the result says so. */
export function lint(loaded: LoadedPlan, options: LintOptions & RuleChoice): LintResult {
  return lintLoaded(loaded, options.rules ?? RULES, options);
}

export interface MendChoice extends MendOptions, RuleChoice {}

/**
 * Carries out the cures of what lint finds, in memory: which were made, with their edits, which were not and why, and the
 * files that change, before and after. The certain ones alone where `likely` is not set. Writes nothing; `report.mend.diff`
 * shows the difference. What can't be judged whole is not mended: then `after` is undefined.
 */
export function mend(inputs: Inputs, options: MendChoice): MendResult {
  const { rules, ...rest } = options;
  return mendPlan(inputs, rules ?? RULES, rest);
}

/** One of the rigs that meet, and what to call it where its files name none. */
export interface MergeSide extends Inputs {
  readonly from: string;
}

export interface MergeChoice extends Omit<MergeOptions, 'joining' | 'ancestor' | 'earlier'>, RuleChoice {
  /** How the rigs are joined. Absent: what is alike is taken to meet. */
  readonly joining?: Inputs;
  /** A plan all sides come from. */
  readonly ancestor?: Inputs;
}

/** Joins rigs: what clashes because they meet, and with `repair` new numbers for it. */
export function merge(sides: readonly MergeSide[], options: MergeChoice): MergeResult {
  const { joining, ancestor, rules, ...rest } = options;
  const all = [...sides, ...(joining === undefined ? [] : [joining]), ...(ancestor === undefined ? [] : [ancestor])];
  return mergeRigs(sides, rules ?? RULES, {
    ...rest,
    ...(joining === undefined ? {} : { joining: joining.inputs }),
    ...(ancestor === undefined ? {} : { ancestor: ancestor.inputs }),
    earlier: all.flatMap(({ problems }) => problems),
  });
}

export { RULES };
export { traceStream, type Judged, type TraceResult } from './answers/trace.js';
export { listFailures, type FailuresOptions, type FailuresResult } from './answers/failures.js';
export { tellTimeline, type TimelineOptions, type TimelineResult } from './answers/timeline.js';
export { electClocks, type ClocksOptions, type ClocksResult } from './answers/clocks.js';
export { addUpDelays, type DelayOptions, type DelayResult } from './answers/delay.js';
export { diffPlans, type DiffResult } from './answers/diff.js';
export type { UnknownName } from './answers/unknown-name.js';
export { allocate, type Allocation, type Outcome as AllocateResult, type Surroundings } from './allocate/allocate.js';
export { planText } from './allocate/plan-text.js';
export { rawRequest, readRequest, type RawRequest } from './allocate/request.js';
export { applySheet, sheetEdits, type Applied as ApplyResult } from './merge/apply.js';
export { createModel } from './model/model.js';
export { parseFormat } from './media/parse-format.js';
export { streamRate } from './media/stream-rate.js';
export { baselineOf, formatBaseline, type Baseline } from './lint/baseline.js';
export { readBaseline, type BaselineResult } from './profile/read-baseline.js';
export { readProfile, unknownNames, type ConventionProfile, type ProfileResult } from './profile/read-profile.js';
export { findingText, type Finding, type FindingText } from './lint/finding.js';
export type { LintOptions } from './lint/run.js';
export type { LintResult } from './lint/result.js';
export type { MendResult } from './mend/mend.js';
export type { MergeResult } from './merge/merge.js';
export type { Inputs, LoadedPlan } from './plan/load.js';
export type { Input } from './read/index.js';
export { REPORTS as report } from './reporters/index.js';
export { crewSheets, type CrewSheet, type SheetName } from './reporters/crew.js';
export type { ReportOptions } from './reporters/options.js';
