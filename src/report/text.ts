/** The report for a person who has to mend the rig: what to put a hand on, worst first, and what to do there. */
import { formatCitation } from '../lint/citation.js';
import type { Finding, LabelledLocation } from '../lint/finding.js';
import type { LintResult } from '../lint/result.js';
import type { Location } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { jobsOf, type Job } from './jobs.js';
import { after, hang, measure, prose, solid, verbatim, wrap, type Piece } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import type { Reporter, ReportOptions } from './reporter.js';
import { summarise } from './summary.js';

/** Column in which the text beside a label starts. */
const INDENT = 10;
const HEADING_INDENT = 4;
const MOST_PLACES = 12;

type Row = (label: string, pieces: readonly Piece[], paintLabel?: (text: string) => string) => readonly string[];

/** Plain text, wrapped to the width, in blocks: unreadable inputs, then jobs, then the summary. */
export const reportText: Reporter = (result, options) => {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint);
  const jobs = jobsOf(result.findings);
  const blocks = [
    ...problemBlocks(result, row, paint, options),
    ...jobs.flatMap((job, index) => jobBlocks(job, `JOB ${index + 1} of ${jobs.length}:`, row, paint, options)),
    [...heading('SUMMARY', paint, options), ...summarise(result, jobs, options, paint)],
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
};

function rowWriter(options: ReportOptions, paint: Paint): Row {
  return (label, pieces, paintLabel = paint.label) => {
    return hang(label, pieces, { width: options.width, indent: INDENT, paint: paintLabel });
  };
}

function problemBlocks(
  { problems }: LintResult,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  if (problems.length === 0) return [];
  return [
    heading('INPUT THAT COULD NOT BE READ', paint, options),
    ...problems.map((problem) => problemBlock(problem, row, paint)),
  ];
}

function problemBlock(problem: Problem, row: Row, paint: Paint): readonly string[] {
  return [
    ...row('UNREAD', prose(problem.what), paint.heading),
    ...row('  Write', prose(problem.instead)),
    ...row('  Where', place(problem.at)),
  ];
}

function jobBlocks(
  job: Job,
  number: string,
  row: Row,
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  return [
    heading(`${number} ${job.touch.kind.toUpperCase()} ${job.touch.name}`, paint, options),
    ...job.findings.map((finding) => findingBlock(finding, row, paint)),
  ];
}

function findingBlock(finding: Finding, row: Row, paint: Paint): readonly string[] {
  const { severity } = finding;
  return [
    ...row(severity.toUpperCase(), prose(finding.what), (text) => paint.severity(severity, text)),
    ...row('  On air', prose(finding.onAir)),
    ...row('  Do', prose(finding.fix)),
    ...placeRows(finding, row),
    ...row('  Source', prose(finding.sources.map(formatCitation).join('; '))),
    ...row('  Key', [...solid('rule'), ...after(solid(finding.rule), 2)]),
    ...row('', [...solid('about'), ...after(verbatim(finding.subject))]),
  ];
}

function placeRows(finding: Finding, row: Row): readonly string[] {
  const { at, others } = finding;
  if (others.length === 0) return row('  Where', labelled(at));
  const shown = others.slice(0, MOST_PLACES - 1);
  const left = others.length - shown.length;
  return [
    ...row('  Where', [...labelled(at), ...after(prose('(change this first)'))]),
    ...shown.flatMap((other) => row('', labelled(other))),
    ...(left === 0 ? [] : row('', prose(`and ${left} more, all in the JSON report`))),
  ];
}

function labelled(location: LabelledLocation): readonly Piece[] {
  return [...place(location), ...after(prose(location.label), 2)];
}

function place(location: Location): readonly Piece[] {
  return solid(`${location.file} ${location.line}:${location.column}`);
}

/** Further lines are set in, so that no name from a plan can pass for a line of the report. */
function heading(text: string, paint: Paint, options: ReportOptions): readonly string[] {
  const [first = '', ...rest] = wrap(prose(text), options.width - HEADING_INDENT);
  const lines = [first, ...rest.map((line) => ' '.repeat(HEADING_INDENT) + line)];
  const columns = Math.min(options.width, Math.max(...lines.map(measure)));
  return [...lines.map(paint.heading), '-'.repeat(columns)];
}
