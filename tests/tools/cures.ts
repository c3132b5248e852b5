/** Cures carried out one by one, for the law that each removes its finding and brings no other error or warning. */
import { RULES } from '../../rules/index.js';
import { findingCure, type Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { mendPlan, type LeftOut } from '../../src/mend/mend.js';
import type { Input } from '../../src/read/index.js';
import { leftOutWords } from '../../src/report/mend/words.js';

export interface Carried {
  readonly finding: Finding;
  readonly certainty: 'certain' | 'likely' | 'people' | 'unsaid';
  /** Why it was not carried out; undefined where it was, and where people decide. */
  readonly failed: string | undefined;
  readonly why: LeftOut | undefined;
}

/** Every cure of a plan, each carried out alone. */
export function carryOutEach(
  inputs: readonly Input[],
  today: string,
  wanted?: (finding: Finding) => boolean,
): readonly Carried[] {
  const { findings } = lintInputs(inputs, RULES, { today });
  return findings
    .filter((finding) => wanted?.(finding) ?? true)
    .map((finding): Carried => {
      const isIt = ({ rule, subject }: Finding): boolean => rule === finding.rule && subject === finding.subject;
      const { mended, left } = mendPlan({ inputs, problems: [] }, RULES, { today, likely: true, wanted: isIt });
      const [done] = mended;
      const [out] = left;
      if (done !== undefined) return { finding, certainty: done.cure.certainty, failed: undefined, why: undefined };
      if (out?.why.kind === 'people')
        return {
          finding,
          certainty: finding.curing === undefined ? 'unsaid' : 'people',
          failed: undefined,
          why: out.why,
        };
      const { certainty } = findingCure(finding);
      return { finding, certainty, failed: out === undefined ? 'it is gone' : leftOutWords(out.why), why: out?.why };
    });
}
