/** A repair that brings nothing new: what it would make worse is left as it is, and said. */
import type { Finding } from '../../lint/finding.js';
import type { Repair, RepairStep } from './repair.js';

/** What a repair does, part by part, in the order of its work. */
const STEPS: readonly RepairStep[] = [
  'VLAN ids',
  'subnets',
  'DHCP ranges',
  'query settings',
  'clock settings',
  'groups',
  'addresses',
  'queriers',
];

export interface Judged {
  readonly repair: Repair;
  readonly left: readonly Finding[];
  /** Findings that were not there before. */
  readonly fresh: readonly Finding[];
}

/**
 * Tries the whole repair; where that makes findings that were not there, the same without one of its parts, whichever
 * leaves the fewest; else nothing at all. A repair that can't be written is no better without a part: it stands as it is.
 */
export function soundRepair<T extends Judged>(attempt: (without: ReadonlySet<RepairStep>) => T): T {
  const whole = attempt(new Set());
  if (isSound(whole)) return whole;
  const parts = STEPS.map((step) => attempt(new Set([step]))).filter(
    (one) => isSound(one) && one.repair.problems.length === 0,
  );
  const [best] = parts.sort((a, b) => a.left.length - b.left.length);
  return best ?? attempt(new Set(STEPS));
}

function isSound({ repair, fresh }: Judged): boolean {
  return fresh.length === 0 || repair.problems.length > 0;
}
