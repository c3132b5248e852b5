/** Checks shared by the tests of readers that build their own tree. */
import { expect } from 'vitest';
import { check } from '../../src/read/checks/plan.js';
import type { ReadResult } from '../../src/read/result.js';
import type { TextDocument } from '../../src/source/text-document.js';

/** The document of a successful read, held against the plan schema. */
export function documentOf(result: ReadResult<TextDocument>): TextDocument {
  expect(result.problems).toEqual([]);
  if (result.document === undefined) throw new Error('no document');
  expect(check(result.document.value)).toEqual([]);
  return result.document;
}

/** Problems as `line:column what`, for short comparisons. */
export function problemsOf(result: ReadResult): readonly string[] {
  return result.problems.map(({ at, what }) => `${at.line}:${at.column} ${what}`);
}

/** A value of the tree, the text its span covers, and where: `streams.0.legs.0.group`. */
export interface Leaf {
  readonly path: string;
  readonly key: string;
  readonly value: unknown;
  readonly text: string;
}

/** Every value of a document that is no container, with the text its span covers. */
export function leavesOf(document: TextDocument): readonly Leaf[] {
  const containers = new Set<object>();
  const visit = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    containers.add(value);
    for (const child of Object.values(value)) visit(child);
  };
  visit(document.value);
  const spans = document.spans(containers);
  const leaves: Leaf[] = [];
  const collect = (value: object, path: string): void => {
    const known = spans.get(value);
    expect(known, `spans of ${path}`).toBeDefined();
    for (const [key, child] of Object.entries(value) as [string, unknown][]) {
      const entry = known?.entries.get(Array.isArray(value) ? Number(key) : key);
      expect(entry, `span of ${path}.${key}`).toBeDefined();
      if (entry === undefined) continue;
      expect(entry.value.start).toBeLessThanOrEqual(entry.value.end);
      expect(entry.value.end).toBeLessThanOrEqual(document.text.length);
      const childPath = path === '' ? key : `${path}.${key}`;
      const text = document.text.slice(entry.value.start, entry.value.end);
      if (typeof child === 'object' && child !== null) collect(child, childPath);
      else leaves.push({ path: childPath, key, value: child, text });
    }
  };
  collect(document.value as object, '');
  return leaves;
}
