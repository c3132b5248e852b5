/** What makes the exit code 1. */
import { SEVERITIES, type Finding } from '../lint/finding.js';

/** Each one fails at all before it too; `unjudged` also where part of the plan was not judged. */
export const FAIL_AT = [...SEVERITIES, 'unjudged'] as const;
export type FailAt = (typeof FAIL_AT)[number];

export function fails(findings: readonly Finding[], leavesOpen: boolean, failAt: FailAt): boolean {
  const limit = FAIL_AT.indexOf(failAt);
  return (
    (failAt === 'unjudged' && leavesOpen) || findings.some(({ severity }) => SEVERITIES.indexOf(severity) <= limit)
  );
}
