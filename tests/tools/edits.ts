/** Shared by the tests of writing into plan files. */
import { applyEdits, type AppliedEdits, type Edit, type EditValue } from '../../src/splice/edit.js';
import { findPath, type Path } from '../../src/splice/path.js';
import { readerOf } from '../../src/read/index.js';
import type { ReadResult } from '../../src/read/result.js';
import type { Document } from '../../src/source/document.js';

/** A document as its reader gives it, not held against the schema, so that unfinished plans can be written into. */
export function documentFrom(name: string, text: string): Document {
  const reader = readerOf({ name, text });
  if (reader?.takes !== 'text') throw new Error(`no reader of text takes ${name}`);
  const { document, problems }: ReadResult = reader.read(name, text);
  if (document === undefined) throw new Error(problems.map(({ what }) => what).join('; '));
  return document;
}

/** The edit of the entry a path leads to. */
export function editAt(document: Document, path: Path, value: EditValue | undefined): Edit {
  const found = findPath(document, path, new Map());
  if (found === undefined) throw new Error(`no ${JSON.stringify(path)}`);
  return { document, ...found, value };
}

/** A text with the entries behind paths changed. */
export function applyTo(
  name: string,
  text: string,
  changes: readonly (readonly [Path, EditValue | undefined])[],
): AppliedEdits {
  const document = documentFrom(name, text);
  return applyEdits(
    document,
    changes.map(([path, value]) => editAt(document, path, value)),
  );
}

/** The new text; fails with what the problems say where there is none. */
export function textOf(applied: AppliedEdits): string {
  if (applied.text === undefined) throw new Error(JSON.stringify(applied.problems));
  return applied.text;
}
