/** A look at part of the findings: of one area, one severity, one box. */
import type { Finding, Severity } from './finding.js';

export interface FindingFilter {
  /** Family of rules: `igmp`. */
  readonly area?: string | undefined;
  readonly severity?: Severity | undefined;
  /** Name of a device or switch. */
  readonly device?: string | undefined;
}

/** Whether a filter shows a finding: all that it asks for must hold. */
export function passes({ rule, severity, boxes }: Finding, filter: FindingFilter): boolean {
  return (
    (filter.area === undefined || areaOf(rule) === filter.area) &&
    (filter.severity === undefined || severity === filter.severity) &&
    (filter.device === undefined || boxes.includes(filter.device))
  );
}

export function showsAll({ area, severity, device }: FindingFilter): boolean {
  return area === undefined && severity === undefined && device === undefined;
}

/** The family of a rule. */
export function areaOf(rule: string): string {
  return rule.split('/')[0] ?? rule;
}
