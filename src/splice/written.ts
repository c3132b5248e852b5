/** Edits as a change sheet keeps them: by file and path, with the old value beside the new one. */
import { append } from '../collections/group-by.js';
import type { Document } from '../source/document.js';
import { locateAll } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import type { Edit, EditValue } from '../edits/entry.js';
import { sameValue } from './same-tree.js';
import { findPath, pathsOf, type ListNames, type Path } from './path.js';
import { valueAt } from './splice.js';

/** An edit that needs no document at hand. */
export interface WrittenEdit {
  readonly file: string;
  readonly path: Path;
  /** Undefined where the entry said nothing. */
  readonly old: unknown;
  /** Undefined where the entry is taken out. */
  readonly new: unknown;
}

/** Edits by the names of their files, in their order; left out are those of containers their document doesn't have. */
export function writeEdits(edits: readonly Edit[], fileOf: (document: Document) => string): readonly WrittenEdit[] {
  const byDocument = new Map<Document, number[]>();
  edits.forEach(({ document }, index) => {
    append(byDocument, document, index);
  });
  const written: (WrittenEdit | undefined)[] = edits.map(() => undefined);
  for (const [document, indices] of byDocument) {
    const own = indices.flatMap((index) => edits[index] ?? []);
    const file = fileOf(document);
    pathsOf(document, own).forEach((path, at) => {
      const [edit, index] = [own[at], indices[at]];
      if (path === undefined || edit === undefined || index === undefined) return;
      written[index] = { file, path, old: valueAt(edit.container, edit.key), new: edit.value };
    });
  }
  return written.filter((one) => one !== undefined);
}

/** What the edits of a sheet mean for plans as they are. */
export interface ReadEdits {
  readonly edits: readonly Edit[];
  /** How many entries say the new value already. */
  readonly already: number;
  readonly problems: readonly Problem[];
}

/** Finds the entries of a sheet in documents by their names on it. */
export function readEdits(written: readonly WrittenEdit[], documents: ReadonlyMap<string, Document>): ReadEdits {
  const edits: Edit[] = [];
  const problems: Problem[] = [];
  const seen: ListNames = new Map();
  let already = 0;
  const missing = new Set<string>();
  const changed: { readonly edit: Edit; readonly old: unknown; readonly now: unknown }[] = [];
  for (const { file, path, old, new: value } of written) {
    const document = documents.get(file);
    if (document === undefined) {
      missing.add(file);
      continue;
    }
    if (value !== undefined && !isEditValue(value, MOST_DEPTH)) {
      problems.push(atStart(document.name, `the sheet gives ${pathWords(path)} a value no plan can hold`, NEW_SHEET));
      continue;
    }
    const found = findPath(document, path, seen);
    const now = found && valueAt(found.container, found.key);
    if (now === undefined && value === undefined) already++;
    else if (found === undefined)
      problems.push(
        atStart(document.name, `there is no entry ${pathWords(path)} here, which the sheet changes`, NEW_SHEET),
      );
    else if (sameValue(now, value)) already++;
    else if (sameValue(now, old)) edits.push({ document, ...found, value });
    else changed.push({ edit: { document, ...found, value }, old, now });
  }
  for (const file of missing)
    problems.push(
      atStart(
        file,
        'the sheet changes this file, and it is not among the plans',
        'name the same rigs that the sheet was made from, and the join file with --join',
      ),
    );
  const at = locateAll(changed.map(({ edit }) => edit));
  for (const { edit, old, now } of changed) {
    const { value } = edit;
    problems.push({
      at: at(edit),
      what: `the plan has changed since the sheet was made: ${said(now)} stands here, and the sheet expects ${said(old)}`,
      instead: `${value === undefined ? 'take it out' : `write ${said(value)}`} by hand if the change still holds, or make a new sheet`,
    });
  }
  return { edits, already, problems };
}

const NEW_SHEET = 'use the plans the sheet was made from, or make a new sheet';

/** Far deeper than any entry of a plan. */
const MOST_DEPTH = 20;

function isEditValue(value: unknown, depth: number): value is EditValue {
  if (typeof value === 'string' || typeof value === 'boolean') return true;
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null || depth === 0) return false;
  return Object.values(value).every((inner) => isEditValue(inner, depth - 1));
}

function atStart(file: string, what: string, instead: string): Problem {
  return { at: { file, line: 1, column: 1, endLine: 1, endColumn: 1 }, what, instead };
}

function said(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = JSON.stringify(value);
  return `\`${text.length > 200 ? `${text.slice(0, 200)}…` : text}\``;
}

/** `devices / cam-31 / senders / picture / legs / 1 / group`. */
function pathWords(path: Path): string {
  return `\`${path.map((step) => (typeof step === 'object' ? step.name : typeof step === 'number' ? String(step + 1) : step)).join(' / ')}\``;
}
