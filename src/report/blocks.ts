/** Blocks that every text report is made of: headings, labelled rows, and inputs that could not be read. */
import type { Location } from '../source/document.js';
import { positionOf } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import { hang, measure, prose, solid, wrap, type Piece } from './layout.js';
import type { Paint } from './paint.js';
import type { ReportOptions } from './reporter.js';

/** Column in which the text beside a label starts. */
const INDENT = 10;
const HEADING_INDENT = 4;

/** Lines of one label and the text beside it. */
export type Row = (label: string, pieces: readonly Piece[], paintLabel?: (text: string) => string) => readonly string[];

/** Rows whose text starts in column `indent`. */
export function rowWriter({ width }: ReportOptions, paint: Paint, indent = INDENT): Row {
  return (label, pieces, paintLabel = paint.label) => hang(label, pieces, { width, indent, paint: paintLabel });
}

/** Further lines are set in, so that no name from a plan can pass for a line of the report. */
export function heading(text: string, paint: Paint, options: ReportOptions): readonly string[] {
  const [first = '', ...rest] = wrap(prose(text), options.width - HEADING_INDENT);
  const lines = [first, ...rest.map((line) => ' '.repeat(HEADING_INDENT) + line)];
  const columns = Math.min(options.width, Math.max(...lines.map(measure)));
  return [...lines.map(paint.heading), '-'.repeat(columns)];
}

/** One block a problem under a heading; nothing when everything could be read. */
export function problemBlocks(
  problems: readonly Problem[],
  paint: Paint,
  options: ReportOptions,
): readonly (readonly string[])[] {
  if (problems.length === 0) return [];
  const row = rowWriter(options, paint);
  return [
    heading('INPUT THAT COULD NOT BE READ', paint, options),
    ...problems.map((problem) => [
      ...row('UNREAD', prose(problem.what), paint.heading),
      ...row('  Write', prose(problem.instead)),
      ...row('  Where', place(problem.at)),
    ]),
  ];
}

/** `plan.yaml 7:3`, `streams.sheet Streams!C7`. */
export function place(location: Location): readonly Piece[] {
  return solid(`${location.file} ${positionOf(location)}`);
}

/** Blocks as one text, an empty line between them. */
export function joinBlocks(blocks: readonly (readonly string[])[]): string {
  return blocks.map((lines) => `${lines.join('\n')}\n`).join('\n');
}
