/** The end of the report: what came out, what was looked at, what was not, and what is accepted. */
import type { Finding } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';
import type { ReceiverVerdicts } from '../../lint/receivers.js';
import { leavesOpen } from '../../lint/unjudged.js';
import type { Rows } from '../../page/page.js';
import { name, prose, say, type Phrase } from '../../page/phrase.js';
import { capped, row, rowsPart, titled } from '../../page/rows.js';
import { counted } from '../../words/counts.js';
import { cautionRow } from '../caution.js';
import { tally } from '../tally.js';
import { assumptionWords } from './assumptions.js';
import type { Task } from './tasks.js';
import { notJudgedWords } from './not-judged.js';
import { ratelessWords } from './rateless.js';
import { notDeliveredWords, notFollowedWords, openEndedWords, receiverCounts, unratedWords } from './receivers.js';
import { unaddressedWords } from './unaddressed.js';
import { nothingFound } from './verdict.js';

const LABEL_ROOM = 12;
const MOST_ENTRIES = 12;
/** Facts that would let most rules judge, first: nobody reads a long list of what is not there. */
const MOST_MISSING = 5;

/** One labelled row or list a subject; `folder` is what all paths leave out, `leftOut` what is found and shown elsewhere. */
export function summaryRows(
  result: LintResult,
  folder: string,
  tasks: readonly Task[],
  leftOut: readonly Finding[],
): readonly Rows[] {
  return rowsPart(LABEL_ROOM, [
    ...titled('Verdict', prose(verdict(result, tasks, leftOut))),
    ...row('Looked at', lookedAt(result, folder)),
    ...row('Receivers', prose(receiverCounts(result))),
    ...row('Undelivered', ...inReport(notDeliveredWords(result.receivers?.notDelivered ?? []))),
    ...row('Unfollowed', ...notFollowed(result.receivers)),
    ...row('No rate', ...inReport(ratelessWords(result.rateless))),
    ...row('No address', ...inReport(unaddressedWords(result.unaddressed))),
    ...row('Accepted', prose(accepted(result))),
    ...row('Outdated', ...outdated(result)),
    ...row('Not judged', ...notJudged(result.notJudged)),
    ...row('Assumed', ...inReport(assumptionWords(result.assumptions).map(prose))),
    ...row('Stopped', ...result.crashed.map(stopped)),
    ...cautionRow(),
    ...(leavesOpen(result) ? row('Left open', prose(LEFT_OPEN)) : []),
  ]);
}

/** What the first page alone must not leave unsaid. */
export function verdictRows(result: LintResult, tasks: readonly Task[], leftOut: readonly Finding[]): readonly Rows[] {
  return rowsPart(LABEL_ROOM, [
    ...titled('Verdict', prose(verdict(result, tasks, leftOut))),
    ...row('Receivers', prose(receiverCounts(result))),
    ...row('Stopped', ...result.crashed.map(stopped)),
    ...cautionRow(),
    ...(leavesOpen(result) ? row('Left open', prose(LEFT_OPEN)) : []),
  ]);
}

const LEFT_OPEN = 'part of this plan was not judged; `--fail-at unjudged` makes that exit code 1.';

function verdict(result: LintResult, tasks: readonly Task[], leftOut: readonly Finding[]): string {
  const incomplete = [
    ...(result.problems.length > 0
      ? [`${counted(result.problems.length, 'place')} of the input could not be read`]
      : []),
    ...(result.crashed.length > 0 ? [`${counted(result.crashed.length, 'rule')} stopped`] : []),
  ];
  const found = foundIn(result, tasks, leftOut, incomplete.length > 0);
  return incomplete.length > 0 ? `${found} The check is not complete: ${incomplete.join(', ')}.` : found;
}

function foundIn(result: LintResult, tasks: readonly Task[], leftOut: readonly Finding[], incomplete: boolean): string {
  if (tasks.length > 0) return `${tally(result.findings)} in ${counted(tasks.length, 'task')}.`;
  if (result.rulesRun.length === 0) return 'Nothing was checked: no rule ran.';
  if (incomplete) return 'No findings, yet not clean.';
  return nothingFound(result, leftOut);
}

/** Each count stays with what it counts. */
function lookedAt({ files, counts, rulesRun }: LintResult, folder: string): Phrase {
  const wholes = [
    ...(folder === '' ? [`${counted(files.length, 'file')};`] : [`${counted(files.length, 'file')} in`, `${folder};`]),
    `${counted(counts.devices, 'device')},`,
    `${counted(counts.interfaces, 'interface')},`,
    `${counted(counts.senders, 'sender')},`,
    `${counted(counts.legs, 'leg')},`,
    `${counted(counts.receivers, 'receiver')},`,
    `${counted(counts.switches, 'switch')},`,
    `${counted(counts.links, 'link')},`,
    `${counted(counts.vlans, 'VLAN')};`,
    `${counted(rulesRun.length, 'rule')}.`,
  ];
  return wholes.flatMap((whole, index) => (index === 0 ? name(whole) : say` ${whole}`));
}

/** Always shown: an accepted error is still there. */
function accepted(result: LintResult): string {
  const waived = result.waived.map(({ finding }) => finding);
  const parts = [
    `${waived.length} waived in the plan${among(tally(waived))}`,
    `${result.known.length} known from the baseline${among(tally(result.known))}`,
  ];
  return `${parts.join(', ')}.`;
}

function among(tallied: string): string {
  return tallied === '' ? '' : ` (${tallied})`;
}

function outdated({ staleBaseline }: LintResult): readonly Phrase[] {
  if (staleBaseline.length === 0) return [];
  return [
    prose(`${counted(staleBaseline.length, 'entry')} of the baseline no longer found; take out:`),
    ...inReport(staleBaseline.map(({ rule, subject }) => say`${rule} about ${prose(subject)}`)),
  ];
}

function notJudged(missing: LintResult['notJudged']): readonly Phrase[] {
  const sorted = missing.toSorted((a, b) => b.rules.length - a.rules.length);
  const entries = sorted.map((one) => {
    const { area, missing: fact, write } = notJudgedWords(one);
    return prose(`no ${fact}: ${write} (${counted(one.rules.length, 'rule')}: ${area})`);
  });
  return capped(entries, MOST_MISSING, (left) => prose(`and ${counted(left, 'more fact')}, all in the JSON report`));
}

function notFollowed(receivers: ReceiverVerdicts | undefined): readonly Phrase[] {
  if (receivers === undefined) return [];
  return [
    ...inReport(notFollowedWords(receivers)),
    ...(receivers.unrated === 0 ? [] : [prose(`${unratedWords(receivers)}.`)]),
    ...(receivers.openEnded === 0 ? [] : [prose(`${openEndedWords(receivers)}.`)]),
  ];
}

function stopped({ rule, message }: LintResult['crashed'][number]): Phrase {
  return say`${rule} stopped and reports nothing: ${prose(message)}`;
}

function inReport(entries: readonly Phrase[]): readonly Phrase[] {
  return capped(entries, MOST_ENTRIES, (left) => prose(`and ${left} more, all in the JSON report`));
}
