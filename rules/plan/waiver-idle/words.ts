import type { FindingWords } from '../../../src/lint/rule.js';

export interface Facts {
  readonly rule: string;
  readonly about: string;
  /** It names parties too. */
  readonly narrow: boolean;
}

export function words({ rule, about, narrow }: Facts): FindingWords {
  return {
    what: `no finding of ${rule} about \`${about}\`${narrow ? ' with these parties' : ''} is there to accept`,
    onAir: 'nothing now; but should the fault come back, for another reason, the waiver hides it',
    fix: `take the waiver out, or copy \`about\`${narrow ? ' and `parties`' : ''} from the report if another finding was meant`,
  };
}
