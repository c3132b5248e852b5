import { SEVERITIES, type Finding, type Touch } from '../lint/finding.js';

/** One thing the crew puts a hand on, and all there is to mend at it. */
export interface Job {
  readonly touch: Touch;
  /** Worst first, then in the order of the files; never empty. */
  readonly findings: readonly Finding[];
}

/** Jobs with the worst finding first, then those with most findings, of equals those that involve most, then by name; the order of findings is free. */
export function jobsOf(findings: readonly Finding[]): readonly Job[] {
  const byTouch = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = JSON.stringify([finding.touch.kind, finding.touch.name]);
    const group = byTouch.get(key);
    if (group === undefined) byTouch.set(key, [finding]);
    else group.push(finding);
  }
  return [...byTouch.values()]
    .flatMap((group) => {
      const sorted = group.toSorted(compareFindings);
      const [worst] = sorted;
      return worst === undefined
        ? []
        : [{ touch: worst.touch, findings: sorted, worst, counts: countsOf(sorted), involved: involved(sorted) }];
    })
    .sort((a, b) => {
      return (
        rank(a.worst) - rank(b.worst) ||
        b.findings.length - a.findings.length ||
        compareCounts(a.counts, b.counts) ||
        b.involved - a.involved ||
        compareText(a.touch.name, b.touch.name) ||
        compareText(a.touch.kind, b.touch.kind)
      );
    });
}

/** More errors first, then more warnings. */
function compareCounts(a: readonly number[], b: readonly number[]): number {
  const [more = 0] = b.map((number, index) => number - (a[index] ?? 0)).filter((difference) => difference !== 0);
  return more;
}

/** How many findings there are of each severity, worst first. */
function countsOf(findings: readonly Finding[]): readonly number[] {
  return SEVERITIES.map((severity) => findings.reduce((sum, one) => (one.severity === severity ? sum + 1 : sum), 0));
}

/** How many parties the findings name, each once. */
function involved(findings: readonly Finding[]): number {
  return findings.length === 1
    ? (findings[0]?.parties.length ?? 0)
    : new Set(findings.flatMap(({ parties }) => parties)).size;
}

function compareFindings(a: Finding, b: Finding): number {
  return (
    rank(a) - rank(b) ||
    compareText(a.at.file, b.at.file) ||
    a.at.line - b.at.line ||
    a.at.column - b.at.column ||
    compareText(a.rule, b.rule) ||
    compareText(a.subject, b.subject)
  );
}

function rank(finding: Finding): number {
  return SEVERITIES.indexOf(finding.severity);
}

/** By code units: the same on every machine, whatever its language. */
function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
