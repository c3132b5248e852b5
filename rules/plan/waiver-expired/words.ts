import type { FindingWords } from '../../../src/lint/rule.js';

export interface Facts {
  readonly rule: string;
  readonly about: string;
  /** Last day, `YYYY-MM-DD`. */
  readonly until: string;
  readonly reason: string;
}

/** A place is named by the last day stated there. */
export function words({ rule, about, until, reason }: Facts): FindingWords<'held'> {
  return {
    what: `the waiver of ${rule} about \`${about}\` held until ${until}, and the fault is still there`,
    onAir: `what the waiver accepted goes on air unaccepted, unless another waiver covers it; the reason given was: ${reason.trim().replace(/[.;,!]+$/, '')}`,
    fix: 'mend the fault now, or agree on a new last day and write it down',
    label: (day) => `held until ${day}`,
  };
}
