/** Findings in words, for tests of what people read; and findings with given words, for tests of reports. */
import type { Effect } from '../../src/lint/effect.js';
import { findingText, type Finding, type FindingText, type FindingWords } from '../../src/lint/finding.js';

export type WordedFinding = Finding & Pick<FindingText, 'what' | 'onAir' | 'fix'>;

/** The finding with its words, its places labelled. */
export function worded(finding: Finding): WordedFinding {
  const { what, onAir, fix, at, others } = findingText(finding);
  return {
    ...finding,
    what,
    onAir,
    fix,
    at: { ...finding.at, label: at },
    others: finding.others.map((other, index) => ({ ...other, label: others[index] ?? other.label })),
  };
}

/** What a finding says, or nothing where there is none. */
export function whatOf(finding: Finding | undefined): string | undefined {
  return finding === undefined ? undefined : findingText(finding).what;
}

/** A finding but for its facts, and its words. */
export type Says = Omit<Finding, 'facts' | 'wording' | 'brief' | 'effect' | 'boxes'> &
  Partial<Pick<Finding, 'brief' | 'effect' | 'boxes'>> &
  FindingWords;

/** Nobody followed what it does. */
const UNKNOWN: Effect = { kind: 'unknown', dark: [], behind: [], doubtful: [], spoiled: [], weakened: [] };

/** A finding that says just this. */
export function saying(finding: Says): Finding {
  const { what, onAir, fix, ...rest } = finding;
  const brief = { of: finding.at.label, fault: finding.rule };
  return {
    brief,
    effect: UNKNOWN,
    boxes: [finding.touch.name],
    ...rest,
    facts: {},
    wording: () => ({ what, onAir, fix }),
  };
}
