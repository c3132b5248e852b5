/** Differences as a unified diff (POSIX.1-2017, `diff`, Diff -u Output Format). */
import type { FileDifference, Hunk } from '../page/difference.js';
import { escapeText } from '../page/escape.js';

/** A tab is no danger to a terminal, and a text with another space in its place would not be the same. */
export function drawUnified(files: readonly FileDifference[]): string {
  return files
    .map(({ name, hunks }) => `--- ${escapeText(name)}\n+++ ${escapeText(name)}\n${hunks.map(hunkText).join('')}`)
    .join('');
}

function hunkText({ oldStart, newStart, lines }: Hunk): string {
  const count = (mark: '-' | '+'): number => lines.filter((line) => line.mark === ' ' || line.mark === mark).length;
  const shown = lines.map(
    ({ mark, text, open }) =>
      `${mark}${text.split('\t').map(escapeText).join('\t')}\n${open === true ? '\\ No newline at end of file\n' : ''}`,
  );
  return `@@ -${oldStart},${count('-')} +${newStart},${count('+')} @@\n${shown.join('')}`;
}
