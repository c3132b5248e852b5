import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { NameDifference } from '../../../src/doors/plan.js';

export interface Facts {
  readonly names: readonly string[];
  readonly difference: NameDifference;
  /** Signs that some of the names have and others have not: `U+0435`. */
  readonly oddSigns: readonly string[];
}

export function words({ names, difference, oddSigns }: Facts): FindingWords<never> {
  const odd = `${listNames(oddSigns)} ${agree(oddSigns.length, 'is', 'are')} in one and not in the other`;
  return {
    what: `${listNames(names)} ${DIFFERENCES[difference]}${oddSigns.length === 0 ? '' : `: ${odd}`}`,
    onAir:
      'somebody takes one for the other: a route, a cable or a change goes to the wrong one, mostly when it has to be quick',
    fix: 'rename all but one so that they differ when read aloud; or, if one thing was meant, write its name the same everywhere',
  };
}

const DIFFERENCES: Readonly<Record<NameDifference, string>> = {
  case: 'differ only by case',
  spelling: 'differ only by case, separators or leading zeros',
  looks: 'look alike',
};
