import { SEVERITIES, type Finding } from '../lint/finding.js';
import { counted } from '../words/counts.js';
import { listNames } from '../words/lists.js';

/** `2 errors and 1 note`, worst first; severities without findings are left out. */
export function tally(findings: readonly Finding[]): string {
  const parts = SEVERITIES.flatMap((severity) => {
    const number = findings.filter((finding) => finding.severity === severity).length;
    return number === 0 ? [] : [counted(number, severity)];
  });
  return listNames(parts);
}
