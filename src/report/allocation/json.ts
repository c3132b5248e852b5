/** What came of a request, for programs. */
import { findingText } from '../../lint/finding.js';
import type { FullnessResult, PlacedRefusal } from './result.js';

export function refusalsJson(refusals: readonly PlacedRefusal[]): object {
  return {
    refusals: refusals.map(({ what, short, change, location }) => ({
      what,
      ...(short === undefined ? {} : { short: { ...short, missing: short.needed - short.has } }),
      // `null` takes the entry out.
      ...(change === undefined ? {} : { change: { ...change, value: change.value ?? null } }),
      at: location,
    })),
  };
}

export function fullnessJson({ fullness, notes, findings }: FullnessResult): object {
  return {
    fullness,
    notes,
    findings: findings.map((finding) => {
      const { severity, rule, subject } = finding;
      return { severity, rule, subject, what: findingText(finding).what };
    }),
  };
}
