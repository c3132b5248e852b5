/** From inputs to a result: reading, resolving and judging in one call. */
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { resolvePlan } from '../plan/resolve/index.js';
import type { Plan } from '../plan/types.js';
import { formatOf, readDocument, type Input } from '../read/index.js';
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
  const { plan, problems, whole } = loadPlan(inputs, earlier);
  return lintPlan(plan, rules, whole ? options : { ...options, incomplete: true }, problems);
}

export interface LoadedPlan {
  readonly plan: Plan;
  readonly problems: readonly Problem[];
  /** False when a plan or stream list could not be read, so that a part of the rig is missing. */
  readonly whole: boolean;
}

/** Reads and resolves inputs; the plan holds whatever could be read. */
export function loadPlan(inputs: readonly Input[], earlier: readonly Problem[] = []): LoadedPlan {
  const documents: Document[] = [];
  const problems: Problem[] = [...earlier];
  let whole = earlier.length === 0;
  for (const input of inputs) {
    const read = readDocument(input);
    if (read.document !== undefined) documents.push(read.document);
    else {
      problems.push(...read.problems);
      if (formatOf(input) !== 'sdp') whole = false;
    }
  }
  const resolved = resolvePlan(documents);
  return {
    plan: resolved.plan,
    problems: [...problems, ...resolved.problems],
    whole: whole && resolved.problems.length === 0,
  };
}
