/** How a finding is repaired, for a person: how sure that is, and each edit at its place. */
import type { Row } from '../../page/page.js';
import { apart, name, place, prose, type Phrase } from '../../page/phrase.js';
import { capped, inset } from '../../page/rows.js';
import { positionOf } from '../../source/locate.js';
import type { ShownCure, ShownEdit } from './cures.js';

const MOST_EDITS = 4;
const MOST_LETTERS = 60;

/** `short` names a file as the rest of the report does. */
export function cureRows(cure: ShownCure | undefined, short: (file: string) => string): readonly Row[] {
  if (cure === undefined) return [];
  if (cure.certainty === 'people') return inset('Edit', prose(`people decide: ${cure.why}`));
  // A file is named once for all edits in a row.
  const edits = cure.edits.map((edit, index) => {
    const at = positionOf(edit.at);
    const isKnown = cure.edits[index - 1]?.file === edit.file;
    return apart(isKnown ? name(at) : place(short(edit.file), at), prose(editWords(edit)));
  });
  return inset(
    cure.certainty === 'certain' ? 'Edit' : 'Likely',
    ...capped(edits, MOST_EDITS, (left): Phrase => prose(`and ${left} more: \`rigproof mend\` shows all`)),
  );
}

/** `group: 239.1.1.1 becomes 239.1.1.2`. */
export function editWords({ path, old, new: now }: ShownEdit): string {
  const step = path.at(-1);
  const key = typeof step === 'string' ? `${step}: ` : '';
  if (now === undefined) return `take \`${key}${said(old)}\` out`;
  if (old === undefined) return `add \`${key}${said(now)}\``;
  return `${key}${said(old)} becomes ${said(now)}`;
}

function said(value: unknown): string {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS)}…` : text;
}
