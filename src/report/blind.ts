/** What an answer could not judge at all, by the name of what the plan does not list. */
import { FACTS, type FactKey } from '../model/facts.js';

export interface BlindWords {
  /** `no receivers`. */
  readonly what: string;
  readonly write: string;
}

export function blindWords(facts: readonly FactKey[] | undefined): readonly BlindWords[] {
  return (facts ?? []).map((key) => ({ what: `no ${FACTS[key].title}`, write: FACTS[key].write }));
}

/** `no receivers: list what each device receives under `receivers``. */
export function blindLines(facts: readonly FactKey[] | undefined): readonly string[] {
  return blindWords(facts).map(({ what, write }) => `${what}: ${write}`);
}
