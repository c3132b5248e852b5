import { listNames } from '../words/lists.js';
import { SEVERITIES, type Finding } from '../lint/finding.js';

/** `1 device`, `12 devices`. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** `2 errors and 1 note`, worst first; severities without findings are left out. */
export function tally(findings: readonly Finding[]): string {
  const parts = SEVERITIES.map((severity) => {
    const number = findings.filter((finding) => finding.severity === severity).length;
    return number === 0 ? undefined : count(number, severity);
  });
  return listNames(parts.filter((part) => part !== undefined));
}
