import type { Location } from './document.js';

/** Something that keeps an input from being read. Not a finding: it says nothing about the rig. */
export interface Problem {
  readonly at: Location;
  /** What is wrong, in one sentence. */
  readonly what: string;
  /** What to write instead. */
  readonly instead: string;
}
