import type { Location, Place } from '../source/document.js';
import type { Citation } from './citation.js';

/** The words of SARIF 2.1.0 §3.27.10, worst first. */
export const SEVERITIES = ['error', 'warning', 'note'] as const;
export type Severity = (typeof SEVERITIES)[number];

/** What the crew has to put a hand on to mend it. */
export type TouchKind = 'device' | 'switch' | 'link' | 'vlan' | 'network' | 'stream' | 'plan';

export interface Touch {
  readonly kind: TouchKind;
  readonly name: string;
}

/** A place and what stands there: `cam-3/video, leg 1`. */
export interface Mark {
  readonly place: Place;
  readonly label: string;
}

/** What a rule yields; the engine adds the rule's id, severity and sources. */
export interface FindingDraft {
  /**
   * Stable key of what the finding is about: never a line, never wording, never the order of entries.
   * Example: `239.10.1.1 in red`. Where two findings of one rule share it, the engine adds a party to each.
   */
  readonly subject: string;
  /** Names of everything involved, in any order; the engine sorts them. */
  readonly parties?: readonly string[];
  /** What is wrong, one sentence, with the values. */
  readonly what: string;
  /** The place to change first. */
  readonly at: Mark;
  /** Every other place involved. */
  readonly others?: readonly Mark[];
  /** What will be seen or heard on air, and when. */
  readonly onAir: string;
  /** What to change. */
  readonly fix: string;
  readonly touch: Touch;
  /** Only where one rule has a worse and a lesser form. */
  readonly severity?: Severity;
  /** Only where not all of the rule's sources bear on this finding: those that do. */
  readonly sources?: readonly Citation[];
}

export interface LabelledLocation extends Location {
  readonly label: string;
}

export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly subject: string;
  readonly parties: readonly string[];
  readonly what: string;
  readonly at: LabelledLocation;
  readonly others: readonly LabelledLocation[];
  readonly onAir: string;
  readonly fix: string;
  readonly touch: Touch;
  readonly sources: readonly Citation[];
}
