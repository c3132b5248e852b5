/** A change sheet put into the plans it was made from: each value that is still the old one becomes the new one. */
import { append } from '../collections/group-by.js';
import { applyEdits, type Edit } from '../splice/edit.js';
import { readEdits, type WrittenEdit } from '../splice/written.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { startOf } from '../source/locate.js';
import { documentsByFile, twiceNamed, type Joined } from './files.js';

export interface Applied {
  /** Texts of the files that change, by their names on the sheet. */
  readonly texts: ReadonlyMap<string, { readonly document: Document; readonly text: string }>;
  readonly changed: number;
  /** Values that are the new ones already. */
  readonly already: number;
  /** With any, nothing is to be written: a sheet holds as a whole or not at all. */
  readonly problems: readonly Problem[];
}

export function applySheet(written: readonly WrittenEdit[], joined: Joined): Applied {
  const twice = twiceNamed(joined).map(({ file, documents: [first, ...others] }): Problem => ({
    at: startOf(others[0]?.name ?? file),
    what: `this file and ${first?.name ?? ''} are both called ${file} on a sheet`,
    instead: 'rename the rig or the file of one of them, and make a new sheet',
  }));
  if (twice.length > 0) return { texts: new Map(), changed: 0, already: 0, problems: twice };
  const documents = documentsByFile(joined);
  const { edits, already, problems } = readEdits(written, documents);
  const byDocument = new Map<Document, Edit[]>();
  for (const edit of edits) {
    append(byDocument, edit.document, edit);
  }
  const texts = new Map<string, { readonly document: Document; readonly text: string }>();
  const faults: Problem[] = [...problems];
  for (const [file, document] of documents) {
    const own = byDocument.get(document);
    if (own === undefined) continue;
    const applied = applyEdits(document, own);
    if (applied.text === undefined) faults.push(...applied.problems);
    else texts.set(file, { document, text: applied.text });
  }
  return { texts, changed: edits.length, already, problems: faults };
}

/** The changes a sheet writes into files, from the JSON form of the sheet; or what is wrong with it. */
export function sheetEdits(value: unknown): readonly WrittenEdit[] | string {
  const wrong = 'this is not a change sheet; `rigproof merge RIG RIG --write FOLDER` writes one as change-sheet.json';
  if (!isRecord(value) || value['rigproofSheet'] !== 1) return wrong;
  const edits = value['edits'] ?? [];
  if (!Array.isArray(edits)) return wrong;
  const found: WrittenEdit[] = [];
  for (const one of edits as readonly unknown[]) {
    if (!isRecord(one)) return wrong;
    const { file, path } = one;
    if (typeof file !== 'string' || !isPath(path)) return wrong;
    found.push({ file, path, old: one['old'] ?? undefined, new: one['new'] ?? undefined });
  }
  return found;
}

function isPath(value: unknown): value is WrittenEdit['path'] {
  return (
    Array.isArray(value) &&
    value.length > 0 &&
    value.every(
      (step) =>
        typeof step === 'string' ||
        (typeof step === 'number' && Number.isInteger(step) && step >= 0) ||
        (isRecord(step) && typeof step['name'] === 'string'),
    )
  );
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
