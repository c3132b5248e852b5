import type { ToldRefusal } from '../../allocate/allocate.js';
import type { Fullness } from '../../allocate/fullness.js';
import type { Finding } from '../../lint/finding.js';
import type { Location } from '../../source/document.js';

/** A refusal with its place in the file. */
export interface PlacedRefusal extends ToldRefusal {
  readonly location: Location;
}

/** What a report on an allocation is made from. */
export interface FullnessResult {
  readonly fullness: readonly Fullness[];
  readonly notes: readonly string[];
  /** What linting the plan beside all others finds anew. */
  readonly findings: readonly Finding[];
}
