/** The report for a person who has to mend the rig: what to put a hand on, worst first, and what to do there. */
import { formatCitation } from '../lint/citation.js';
import { findingText, type Finding, type FindingText, type LabelledLocation } from '../lint/finding.js';
import { heading, joinBlocks, place, problemBlocks, rowWriter, type Row } from './blocks.js';
import { jobsOf, type Job } from './jobs.js';
import { after, prose, solid, verbatim, type Piece } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import type { Reporter, ReportOptions } from './reporter.js';
import { shortPaths } from './short-paths.js';
import { summarise } from './summary.js';

const MOST_PLACES = 12;

/** Plain text, wrapped to the width, in blocks: unreadable inputs, then jobs, then the summary. */
export const reportText: Reporter = (full, options) => {
  const { result, folder } = shortPaths(full);
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint);
  const jobs = jobsOf(result.findings);
  const blocks = [
    ...problemBlocks(result.problems, paint, options),
    ...jobs.flatMap((job, index) => jobBlocks(job, `JOB ${index + 1} of ${jobs.length}:`, row, paint, options)),
    [...heading('SUMMARY', paint, options), ...summarise(result, folder, jobs, options, paint)],
  ];
  return joinBlocks(blocks);
};

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
  const text = findingText(finding);
  return [
    ...row(severity.toUpperCase(), prose(text.what), (label) => paint.severity(severity, label)),
    ...row('  On air', prose(text.onAir)),
    ...row('  Do', prose(text.fix)),
    ...placeRows(finding, text, row),
    ...row('  Source', prose(finding.sources.map(formatCitation).join('; '))),
    ...row('  Key', [...solid('rule'), ...after(solid(finding.rule), 2)]),
    ...row('', [...solid('about'), ...after(verbatim(finding.subject))]),
  ];
}

function placeRows(finding: Finding, text: FindingText, row: Row): readonly string[] {
  const at = { ...finding.at, label: text.at };
  const others = finding.others.map((other, index) => ({ ...other, label: text.others[index] ?? other.label }));
  if (others.length === 0) return row('  Where', labelled(at));
  // A line that counts one more takes the room of that one.
  const shown = others.length <= MOST_PLACES ? others : others.slice(0, MOST_PLACES - 1);
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
