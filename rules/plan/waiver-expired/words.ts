import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly rule: string;
  readonly subject: string;
  /** The last day of the one that held longest: `2026-05-31`. */
  readonly until: string;
  /** As written. */
  readonly reason: string;
}

export interface Note {
  readonly until: string;
}

export function words({ rule, subject, until, reason }: Facts): FindingWords<Note> {
  return {
    what: `the waiver of ${rule} about \`${subject}\` held until ${until}, and the fault is still there`,
    onAir: `what the waiver accepted goes on air unaccepted, unless another waiver covers it; the reason given was: ${reason.trim().replace(/[.;,!]+$/, '')}`,
    fix: 'mend the fault now, or agree on a new last day and write it down',
    label: (_, note) => `held until ${note.until}`,
  };
}
