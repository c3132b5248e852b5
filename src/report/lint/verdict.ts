/** The sentence of a report without findings: clean, or what keeps it from that. */
import type { Finding } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';
import { agree, counted } from '../../words/counts.js';
import { listNames } from '../../words/lists.js';
import { tally } from '../tally.js';
import { isEmpty, ratelessCounts } from './rateless.js';
import { notFollowedCount } from './receivers.js';

/** `leftOut`: findings that are shown elsewhere, as those a rig has alone. */
export function nothingFound(result: LintResult, leftOut: readonly Finding[]): string {
  const accepted = acceptedWords(result, leftOut);
  const open = openWords(result);
  if (accepted === '' && open.length === 0)
    return `Clean: ${counted(result.rulesRun.length, 'rule')} found nothing, and ${deliveries(result)}.`;
  return `${[accepted === '' ? 'Nothing found' : `Nothing new, ${accepted}`, ...open].join('; ')}.`;
}

function deliveries({ receivers }: LintResult): string {
  const legs = receivers?.legs ?? 0;
  return `${legs === 1 ? 'the 1 receiver leg is' : `all ${legs} receiver legs are`} delivered`;
}

/** `24 errors known and 1 note waived`; empty where nothing is accepted. */
function acceptedWords({ known, waived }: LintResult, leftOut: readonly Finding[]): string {
  const parts = [
    [known, 'known'],
    [waived.map(({ finding }) => finding), 'waived'],
    [leftOut, 'of one rig alone'],
  ] as const;
  return listNames(parts.flatMap(([findings, word]) => (findings.length === 0 ? [] : [`${tally(findings)} ${word}`])));
}

function openWords({ receivers, rateless, unaddressed, notJudged, staleBaseline }: LintResult): readonly string[] {
  const waiting = new Set(notJudged.flatMap(({ rules }) => rules)).size;
  return [
    ...(receivers === undefined || receivers.legs === 0 ? ['no receiver leg to follow'] : []),
    ...(receivers === undefined || receivers.notFollowed.length === 0
      ? []
      : [`${notFollowedCount(receivers)} of ${counted(receivers.legs, 'leg')} not followed`]),
    ...(receivers === undefined || receivers.notDelivered.length === 0
      ? []
      : [`${receivers.notDelivered.length} of ${counted(receivers.legs, 'leg')} not delivered`]),
    ...(receivers === undefined || receivers.unrated === 0
      ? []
      : [`${counted(receivers.unrated, 'stream leg')} of unknown rate, so loads are at least what is said`]),
    ...(receivers === undefined || receivers.openEnded === 0
      ? []
      : [
          `${counted(receivers.openEnded, 'stream leg')} to one address not followed to the end, so loads beyond are at least what is said`,
        ]),
    ...(isEmpty(rateless) ? [] : [`no rate known for ${ratelessCounts(rateless)}`]),
    ...(unaddressed.length === 0 ? [] : [`no address known for ${counted(unaddressed.length, 'interface')}`]),
    ...(waiting === 0 ? [] : [`${counted(waiting, 'rule')} ${agree(waiting, 'waits', 'wait')} for facts`]),
    ...(staleBaseline.length === 0 ? [] : ['the baseline is outdated']),
  ];
}
