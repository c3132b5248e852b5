/** What came of a request, for programs. */
import type { Fullness } from '../allocate/fullness.js';
import { findingText, type Finding } from '../lint/finding.js';
import type { PlacedRefusal } from './allocation-text.js';
import { safeJson } from './escape.js';

export function reportRefusalsJson(refusals: readonly PlacedRefusal[]): string {
  return `${safeJson({
    refusals: refusals.map(({ what, short, change, location }) => ({
      what,
      ...(short === undefined ? {} : { short: { ...short, missing: short.needed - short.has } }),
      // `null` takes the entry out.
      ...(change === undefined ? {} : { change: { ...change, value: change.value ?? null } }),
      at: location,
    })),
  })}\n`;
}

export function reportFullnessJson(
  fullness: readonly Fullness[],
  notes: readonly string[],
  findings: readonly Finding[],
): string {
  return `${safeJson({
    fullness,
    notes,
    findings: findings.map((finding) => {
      const { severity, rule, subject } = finding;
      return { severity, rule, subject, what: findingText(finding).what };
    }),
  })}\n`;
}
