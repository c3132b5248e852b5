import type { FindingWords } from '../../../src/doors/rule.js';
import { spanWords, type Span } from '../../../src/doors/timing.js';

export interface Facts {
  readonly lost: string;
  readonly backup: string;
  /** After the last Announce; undefined where it is not known. */
  readonly takeover: Span | undefined;
  /** Until the followers have accepted it, after the last Announce. */
  readonly accepted: Span;
  readonly announceIntervalS: number;
  /** In announce intervals. */
  readonly announceReceiptTimeout: number;
}

/** Admitted by every profile for pictures and for sound (logAnnounceInterval, announceReceiptTimeout). */
export const FAST = { logAnnounceInterval: 0, announceReceiptTimeout: 3 };

export type Note = 'takes over' | 'lost';

export function words(facts: Facts): FindingWords<Note> {
  const { lost, backup, takeover, accepted, announceIntervalS, announceReceiptTimeout } = facts;
  return {
    what: `when ${lost} is lost, ${backup} takes over ${spanWords(takeover)} and its followers accept it ${spanWords(accepted)}: announce interval ${announceIntervalS} s, timeout ${announceReceiptTimeout}`,
    onAir:
      'until then each clock free-runs and drifts, and pictures and sound step when they lock again; the longer the gap, the larger the step',
    fix:
      announceIntervalS <= 2 ** FAST.logAnnounceInterval && announceReceiptTimeout <= FAST.announceReceiptTimeout
        ? 'bring both grandmasters to one network section or one boundary clock, or shorten the announce interval in the whole domain where every clock admits it'
        : `set logAnnounceInterval ${String(FAST.logAnnounceInterval)} and announceReceiptTimeout ${String(FAST.announceReceiptTimeout)} in the whole domain: every wait of a takeover is a number of announce intervals`,
    label: (name, note) => `${name}: ${note}`,
  };
}
