import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Finding, Touch } from '../../lint/finding.js';
import { byEffect } from '../../lint/rank.js';

/** One thing the crew puts a hand on, and all there is to mend at it. */
export interface Task {
  readonly touch: Touch;
  /** Worst for the show first. */
  readonly findings: NonEmpty<Finding>;
}

export interface NumberedTask extends Task {
  /** From 1: the number of its block. */
  readonly number: number;
}

/** The task whose worst finding does most to the show first; the order of findings is free. */
export function tasksOf(findings: readonly Finding[]): readonly NumberedTask[] {
  const sorted = findings.toSorted(byEffect);
  const byTouch = groupBy(sorted, ({ touch }) => JSON.stringify([touch.kind, touch.name]));
  return [...byTouch.values()].filter(isNonEmpty).map((own, index) => ({
    touch: own[0].touch,
    findings: own,
    number: index + 1,
  }));
}
