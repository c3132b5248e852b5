/** What came of a request, for people: why it can't be met, or how full its ranges are. */
import { findingText } from '../../lint/finding.js';
import type { Column, Page, Part } from '../../page/page.js';
import { name, place, prose } from '../../page/phrase.js';
import { block, headed, inset, paragraph, row, rowsPart, titled } from '../../page/rows.js';
import { LABEL_ROOM } from '../problems.js';
import type { FullnessResult, PlacedRefusal } from './result.js';
import { positionOf } from '../../source/locate.js';

const COLUMNS: readonly Column[] = [{ type: 'name' }, { type: 'name' }, { type: 'name' }, { type: 'name' }];

/** Each reason with what is short and the change that was tried and found to do. */
export function refusalsPage(refusals: readonly PlacedRefusal[]): Page {
  return {
    blocks: [
      headed('REQUEST THAT CAN NOT BE MET'),
      ...refusals.flatMap((refusal) => block(...refusalRows(refusal))),
      ...block(paragraph(prose('Nothing is written.'))),
    ],
  };
}

function refusalRows({ what, short, change, location }: PlacedRefusal): readonly Part[] {
  return rowsPart(LABEL_ROOM, [
    ...titled('REFUSED', prose(what)),
    ...(short === undefined
      ? []
      : inset(
          'Short',
          prose(`${short.of}: ${short.needed} needed, ${short.has} there, ${short.needed - short.has} missing`),
        )),
    ...inset('Change', prose(change === undefined ? NO_CHANGE : `${change.words} (tried: it does)`)),
    ...inset('Where', place(location.file, positionOf(location))),
  ]);
}

const NO_CHANGE = 'no single change that was tried does';

/** How full each range is, and notes. */
export function fullnessPage({ fullness, notes, findings }: FullnessResult): Page {
  const rows = fullness.map(({ what, range, used, of, left }) => ({
    cells: [what, range, `${used} of ${of} used`, `${left} left`],
  }));
  return {
    blocks: [
      headed('HOW FULL IT IS'),
      ...block({ kind: 'table', columns: COLUMNS, rows }),
      ...block(
        ...rowsPart(
          LABEL_ROOM,
          notes.flatMap((note) => row('NOTE', prose(note))),
        ),
      ),
      ...block(
        paragraph(name(findingsLine(findings.length))),
        ...rowsPart(
          LABEL_ROOM,
          findings.flatMap((finding) => row(finding.severity, prose(`${finding.rule}: ${findingText(finding).what}`))),
        ),
      ),
    ],
  };
}

function findingsLine(count: number): string {
  return count === 0
    ? 'Linted with all it was told to keep clear of: nothing found.'
    : `Linted: ${count === 1 ? 'one finding comes' : `${count} findings come`} from what the request asks for.`;
}
