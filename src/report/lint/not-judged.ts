/** What could not be judged, in words. */
import type { NotJudged } from '../../lint/result.js';
import { FACTS } from '../../model/facts.js';
import { listNames } from '../../words/lists.js';

export interface NotJudgedWords {
  /** Families of the rules: `hosts and sources`. */
  readonly area: string;
  /** The fact the plan does not state: `multicast routing`. */
  readonly missing: string;
  /** What to write so that the rules can judge. */
  readonly write: string;
}

export function notJudgedWords({ fact, rules }: NotJudged): NotJudgedWords {
  const families = new Set(rules.map((id) => id.split('/')[0] ?? id));
  return { area: listNames([...families]), missing: FACTS[fact].title, write: FACTS[fact].write };
}
