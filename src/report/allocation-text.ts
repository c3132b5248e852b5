/** What came of a request, for people: why it can't be met, or how full its ranges are. */
import type { ToldRefusal } from '../allocate/allocate.js';
import type { Fullness } from '../allocate/fullness.js';
import { findingText, type Finding } from '../lint/finding.js';
import type { Location } from '../source/document.js';
import { heading, joinBlocks, place, rowWriter } from './blocks.js';
import { escapeText } from './escape.js';
import { prose } from './layout.js';
import { createPaint } from './paint.js';
import type { ReportOptions } from './reporter.js';

/** A refusal with its place in the file. */
export interface PlacedRefusal extends ToldRefusal {
  readonly location: Location;
}

/** Each reason with what is short and the change that was tried and found to do. */
export function reportRefusals(refusals: readonly PlacedRefusal[], options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint);
  return joinBlocks([
    heading('REQUEST THAT CAN NOT BE MET', paint, options),
    ...refusals.map(({ what, short, change, location }) => [
      ...row('REFUSED', prose(what), paint.heading),
      ...(short === undefined
        ? []
        : row(
            '  Short',
            prose(`${short.of}: ${short.needed} needed, ${short.has} there, ${short.needed - short.has} missing`),
          )),
      ...row('  Change', prose(change === undefined ? NO_CHANGE : `${change.words} (tried: it does)`)),
      ...row('  Where', place(location)),
    ]),
    ['Nothing is written.'],
  ]);
}

const NO_CHANGE = 'no single change that was tried does';

/** How full each range is, and notes. */
export function reportFullness(
  fullness: readonly Fullness[],
  notes: readonly string[],
  findings: readonly Finding[],
  options: ReportOptions,
): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint);
  const rows = fullness.map(({ what, range, used, of, left }) =>
    [what, range, `${used} of ${of} used`, `${left} left`].map(escapeText),
  );
  const wide = [0, 1, 2].map((column) => Math.max(0, ...rows.map((cells) => (cells[column] ?? '').length)));
  return joinBlocks([
    heading('HOW FULL IT IS', paint, options),
    rows.map((cells) =>
      cells
        .map((cell, column) => cell.padEnd(wide[column] ?? 0))
        .join('  ')
        .trimEnd(),
    ),
    ...(notes.length === 0 ? [] : [notes.flatMap((note) => row('NOTE', prose(note)))]),
    ...(findings.length === 0
      ? [[findingsLine(0)]]
      : [
          [
            findingsLine(findings.length),
            ...findings.flatMap((finding) =>
              row(finding.severity, prose(`${finding.rule}: ${findingText(finding).what}`)),
            ),
          ],
        ]),
  ]);
}

function findingsLine(count: number): string {
  return count === 0
    ? 'Linted with all it was told to keep clear of: nothing found.'
    : `Linted: ${count === 1 ? 'one finding comes' : `${count} findings come`} from what the request asks for.`;
}
