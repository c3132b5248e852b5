/** From what was loaded, or inputs, to a result. */
import type { Problem } from '../source/problem.js';
import { loadPlan, type LoadedPlan } from '../plan/load.js';
import type { Input } from '../read/index.js';
import type { LintResult } from './result.js';
import type { Rule } from './rule.js';
import { lintPlan, type LintOptions } from './run.js';

/**
 * Lints inputs as one rig, or as several joined. Where a plan or stream list can't be read the rest is not judged,
 * because a plan with a part missing would raise false alarms; an SDP file that can't be read is left out instead.
 */
export function lintInputs(
  inputs: readonly Input[],
  rules: readonly Rule[],
  options: LintOptions,
  earlier: readonly Problem[] = [],
): LintResult {
  return lintLoaded(loadPlan(inputs, earlier), rules, options);
}

/** Judges a plan. Nothing is judged where a part is missing, which would raise false alarms: the result says so. */
export function lintLoaded(
  { plan, problems, whole }: LoadedPlan,
  rules: readonly Rule[],
  options: LintOptions,
): LintResult {
  return lintPlan(plan, rules, whole ? options : { ...options, incomplete: true }, problems);
}
