/**
 * The engine: what reads, judges and reports, without a disk, a clock or any module of Node. A bundler takes it as it is,
 * for a page in a browser too.
 *
 * ```ts
 * import { lint, report } from 'rigproof/engine';
 * const result = lint([{ name: 'plan.yaml', text }], { today: '2026-06-01' });
 * console.log(report.text(result, { version: '', width: 100, colour: false }));
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
export { loadPlan, type LoadedPlan } from './plan/load.js';
export type { Input } from './read/index.js';
export type { LintResult } from './lint/result.js';
export type { Finding, LabelledLocation, Severity } from './lint/finding.js';
export type { Rule, RuleContext } from './lint/rule.js';
export { baselineOf, formatBaseline, type Baseline } from './lint/baseline.js';
export type { Profile } from './lint/profile.js';
export { readBaseline, type BaselineResult } from './profile/read-baseline.js';
export { readProfile, unknownNames, type HouseProfile, type ProfileResult } from './profile/read-profile.js';
export { REPORTERS as report } from './reporters/lint.js';
