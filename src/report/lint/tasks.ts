import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byCodeUnit } from '../../collections/order.js';
import { SEVERITIES, type Finding, type Touch } from '../../lint/finding.js';

/** One thing the crew puts a hand on, and all there is to mend at it. */
export interface Task {
  readonly touch: Touch;
  /** Worst first, then in the order of the files. */
  readonly findings: NonEmpty<Finding>;
}

/**
 * Jobs with the worst finding first, then those with most findings, of equals those that involve most, then by name; the
 * order of findings is free.
 */
export function tasksOf(findings: readonly Finding[]): readonly Task[] {
  const byTouch = groupBy(findings, ({ touch }) => JSON.stringify([touch.kind, touch.name]));
  return [...byTouch.values()]
    .flatMap((group) => {
      const sorted = group.toSorted(compareFindings);
      if (!isNonEmpty(sorted)) return [];
      const [worst] = sorted;
      return [{ touch: worst.touch, findings: sorted, worst, counts: countsOf(sorted), involved: involved(sorted) }];
    })
    .sort((a, b) => {
      return (
        rank(a.worst) - rank(b.worst) ||
        b.findings.length - a.findings.length ||
        compareCounts(a.counts, b.counts) ||
        b.involved - a.involved ||
        byCodeUnit(a.touch.name, b.touch.name) ||
        byCodeUnit(a.touch.kind, b.touch.kind)
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
function involved(findings: NonEmpty<Finding>): number {
  return new Set(findings.flatMap(({ parties }) => parties)).size;
}

function compareFindings(a: Finding, b: Finding): number {
  return (
    rank(a) - rank(b) ||
    byCodeUnit(a.at.file, b.at.file) ||
    a.at.line - b.at.line ||
    a.at.column - b.at.column ||
    byCodeUnit(a.rule, b.rule) ||
    byCodeUnit(a.subject, b.subject)
  );
}

function rank(finding: Finding): number {
  return SEVERITIES.indexOf(finding.severity);
}
