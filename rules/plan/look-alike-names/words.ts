import { agree, listNames, type FindingWords } from '../../../src/lint/rule.js';

/** They differ by case, or by separators and leading zeros too, or only look alike. */
export type Alike = 'case' | 'spelling' | 'look';

export interface Facts {
  readonly names: readonly string[];
  readonly alike: Alike;
  /** Signs that some of the names have and others have not: `U+0430`. */
  readonly odd: readonly string[];
}

export function words({ names, alike, odd }: Facts): FindingWords {
  const signs =
    odd.length === 0 ? '' : `: ${listNames(odd)} ${agree(odd.length, 'is', 'are')} in one and not in the other`;
  return {
    what: `${listNames(names)} ${HOW[alike]}${signs}`,
    onAir:
      'somebody takes one for the other: a route, a cable or a change goes to the wrong one, mostly when it has to be quick',
    fix: 'rename all but one so that they differ when read aloud; or, if one thing was meant, write its name the same everywhere',
  };
}

const HOW: Readonly<Record<Alike, string>> = {
  case: 'differ only by case',
  spelling: 'differ only by case, separators or leading zeros',
  look: 'look alike',
};
