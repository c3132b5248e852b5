import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly rule: string;
  readonly subject: string;
  /** Whether the waiver is held to certain parties. */
  readonly namesParties: boolean;
}

export function words({ rule, subject, namesParties }: Facts): FindingWords<never> {
  return {
    what: `no finding of ${rule} about \`${subject}\`${namesParties ? ' with these parties' : ''} is there to accept`,
    onAir: 'nothing now; but should the fault come back, for another reason, the waiver hides it',
    fix: `take the waiver out, or copy \`subject\`${namesParties ? ' and `parties`' : ''} from the report if another finding was meant`,
  };
}
