/** The end of the text report: what came out, what was looked at, what was not, and what is accepted. */
import type { LintResult } from '../lint/result.js';
import type { Job } from './jobs.js';
import { after, hang, prose, solid, type Piece } from './layout.js';
import type { Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { count, tally } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 12;
const MOST_ENTRIES = 12;

/** Lines of the summary, one labelled row or list per subject; `folder` is what all paths leave out. */
export function summarise(
  result: LintResult,
  folder: string,
  jobs: readonly Job[],
  options: ReportOptions,
  paint: Paint,
): readonly string[] {
  const rows = (label: string, entries: readonly (readonly Piece[])[]): readonly string[] => {
    return entries.flatMap((entry, index) => {
      return hang(index === 0 ? label : '', entry, { width: options.width, indent: INDENT, paint: paint.label });
    });
  };
  return [
    ...hang('Verdict', prose(verdict(result, jobs)), { width: options.width, indent: INDENT, paint: paint.heading }),
    ...rows(
      'Go to',
      capped(
        jobs.map((job, index) => goTo(job, index, Math.min(jobs.length, MOST_ENTRIES))),
        'each with its block above',
      ),
    ),
    ...rows('Looked at', [lookedAt(result, folder)]),
    ...rows('Accepted', [prose(accepted(result))]),
    ...rows('Outdated', outdated(result)),
    ...rows('Not judged', notJudged(result.notJudged)),
    ...rows('Assumed', capped(result.assumptions.map(prose))),
    ...rows('Stopped', result.crashed.map(stopped)),
    ...rows('Caution', [prose(CAUTION)]),
  ];
}

function verdict(result: LintResult, jobs: readonly Job[]): string {
  const incomplete = [
    ...(result.problems.length > 0 ? [`${count(result.problems.length, 'place')} of the input could not be read`] : []),
    ...(result.crashed.length > 0 ? [`${count(result.crashed.length, 'rule')} stopped`] : []),
  ];
  const found = foundIn(result, jobs, incomplete.length > 0);
  return incomplete.length > 0 ? `${found} The check is not complete: ${incomplete.join(', ')}.` : found;
}

function foundIn(result: LintResult, jobs: readonly Job[], incomplete: boolean): string {
  if (jobs.length > 0) return `${tally(result.findings)} in ${count(jobs.length, 'job')}.`;
  if (result.rulesRun.length === 0) return 'Nothing was checked: no rule ran.';
  if (incomplete) return 'No findings, yet not clean.';
  const accepts = result.waived.length + result.known.length > 0 ? ' but what is accepted below' : '';
  const silent = result.notJudged.length > 0 ? ', as far as the plan can be judged' : '';
  return `Clean: ${count(result.rulesRun.length, 'rule')} found nothing${accepts}${silent}.`;
}

function goTo(job: Job, index: number, last: number): readonly Piece[] {
  const where = `${job.touch.kind.toUpperCase()} ${job.touch.name}: ${tally(job.findings)}`;
  return [...solid(String(index + 1).padStart(String(last).length)), ...after(prose(where), 2)];
}

function lookedAt({ files, counts, rulesRun }: LintResult, folder: string): readonly Piece[] {
  const parts = [
    ...(folder === '' ? [`${count(files.length, 'file')};`] : [`${count(files.length, 'file')} in`, `${folder};`]),
    `${count(counts.devices, 'device')},`,
    `${count(counts.interfaces, 'interface')},`,
    `${count(counts.senders, 'sender')},`,
    `${count(counts.legs, 'leg')},`,
    `${count(counts.receivers, 'receiver')},`,
    `${count(counts.switches, 'switch', 'switches')},`,
    `${count(counts.links, 'link')},`,
    `${count(counts.vlans, 'VLAN')};`,
    `${count(rulesRun.length, 'rule')}.`,
  ];
  return parts.flatMap((part) => after(solid(part)));
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

function outdated(result: LintResult): readonly (readonly Piece[])[] {
  if (result.staleBaseline.length === 0) return [];
  return [
    prose(`${count(result.staleBaseline.length, 'entry', 'entries')} of the baseline no longer found; take out:`),
    ...capped(result.staleBaseline.map(({ rule, subject }) => [...solid(rule), ...after(prose(`about ${subject}`))])),
  ];
}

/** Facts that would let most rules judge, first: nobody reads a long list of what is not there. */
const MOST_MISSING = 5;

function notJudged(missing: LintResult['notJudged']): readonly (readonly Piece[])[] {
  const sorted = [...missing].sort((a, b) => b.rules.length - a.rules.length);
  const entries = sorted
    .slice(0, MOST_MISSING)
    .map(({ area, missing: fact, write, rules }) =>
      prose(`no ${fact}: ${write} (${count(rules.length, 'rule')}: ${area})`),
    );
  const left = sorted.length - entries.length;
  return left <= 0 ? entries : [...entries, prose(`and ${count(left, 'more fact')}, all in the JSON report`)];
}

function stopped({ rule, message }: LintResult['crashed'][number]): readonly Piece[] {
  return [...solid(rule), ...after(prose(`stopped and reports nothing: ${message}`))];
}

function capped(
  entries: readonly (readonly Piece[])[],
  where = 'all in the JSON report',
): readonly (readonly Piece[])[] {
  const left = entries.length - MOST_ENTRIES;
  return left <= 0 ? entries : [...entries.slice(0, MOST_ENTRIES), prose(`and ${left} more, ${where}`)];
}
