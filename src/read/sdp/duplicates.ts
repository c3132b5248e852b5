import { quote, type ProblemList } from '../problem-list.js';
import { attributes, type Description, type MediaSection } from './lines.js';
import { slice, spanOf, trim, wordsOf, type Piece } from './piece.js';

/** Media of the session that carry the same stream twice, in the order the group names them. */
export type Duplicates = readonly (readonly number[])[];

/**
 * `a=group:DUP` (RFC 7104 §3.2) as lists of media indexes. A stream belongs to one group only, so a medium named twice
 * leaves open which one it doubles.
 */
export function readDuplicates({ session, media }: Description, problems: ProblemList): Duplicates {
  const byMid = new Map<string, number>();
  media.forEach((section, index) => {
    const mid = midOf(section);
    if (mid !== undefined && !byMid.has(mid.text)) byMid.set(mid.text, index);
  });
  const grouped = new Set<number>();
  return attributes(session, 'group').flatMap((line) => {
    const [semantics, ...mids] = wordsOf(line);
    if (semantics?.text.toUpperCase() !== 'DUP') return [];
    return [
      mids.flatMap((mid) => {
        const index = byMid.get(withoutSemicolon(mid).text);
        if (index === undefined) {
          problems.add(
            spanOf(mid),
            `redundant leg ${quote(mid.text)} is not in this session: no medium has \`a=mid:${mid.text.slice(0, 60)}\``,
            midsToWrite(byMid),
          );
          return [];
        }
        if (grouped.has(index)) {
          problems.add(
            spanOf(mid),
            `redundant leg ${quote(mid.text)} is named twice`,
            'name each medium once, in one `a=group:DUP` line',
          );
          return [];
        }
        grouped.add(index);
        return [index];
      }),
    ];
  });
}

/** Whether one medium is sent twice on its own (RFC 7104 §3.1): each source of its filter is then one leg. */
export function isDuplicatedInside(section: MediaSection): boolean {
  return attributes(section, 'ssrc-group').some((line) => /^DUP(\s|$)/i.test(line.text));
}

/** `a=mid` (RFC 5888 §4). */
export function midOf(section: MediaSection): Piece | undefined {
  const mid = attributes(section, 'mid')[0];
  if (mid === undefined) return undefined;
  const piece = withoutSemicolon(mid);
  return piece.text === '' ? undefined : piece;
}

/** Published descriptions end `a=mid` with a semicolon, as if it were a format parameter. */
function withoutSemicolon(piece: Piece): Piece {
  // Not by a regular expression: one anchored at the end is quadratic in a run of semicolons.
  let end = piece.text.length;
  while (piece.text[end - 1] === ';') end--;
  return trim(slice(piece, 0, end));
}

function midsToWrite(byMid: ReadonlyMap<string, number>): string {
  const known = [...byMid.keys()].slice(0, 4).map((mid) => quote(mid));
  return known.length === 0
    ? 'give each leg its `a=mid` line'
    : `name one of the media of this session: ${known.join(', ')}`;
}
