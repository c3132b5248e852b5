/** The written plan: YAML with the legend on top and a word before each part. */
import type { Allocation } from './allocate.js';
import type { Fullness } from './fullness.js';
import { legendLines } from './legend.js';
import type { RawRequest } from './request.js';
import { yamlText } from './yaml-text.js';

/** Equal allocations give equal text, byte for byte. */
export function planText({ plan, fullness, notes }: Allocation, { rig, venue }: RawRequest): string {
  const head = [
    `${rig}${venue === undefined ? '' : `, ${venue}`}: allocated from a request.`,
    '',
    ...legendLines(plan),
    '',
    'What is used, and what may still come',
    ...fullnessLines(fullness),
    ...(notes.length === 0 ? [] : ['', ...notes]),
  ];
  return yamlText({ ...plan }, { head, sections: SECTIONS });
}

/** One line a range, in columns. */
export function fullnessLines(fullness: readonly Fullness[]): readonly string[] {
  const cells = fullness.map(({ what, range, used, of, left }) => [what, range, `${used} of ${of}`, `${left} left`]);
  const wide = [0, 1, 2].map((column) => Math.max(0, ...cells.map((row) => (row[column] ?? '').length)));
  return cells.map((row) => `  ${row.map((cell, column) => cell.padEnd(wide[column] ?? 0)).join('  ')}`.trimEnd());
}

const SECTIONS: ReadonlyMap<string, readonly string[]> = new Map([
  ['conventions', ['What is promised: where groups lie, and that the second leg follows the first number by number.']],
  ['vlans', ['The first querier has the lowest address, so that it wins the election (RFC 3376 section 6.6.2).']],
  ['switches', ['Ports are dealt in the order of areas and units.']],
  ['kinds', ['What all boxes of a kind share; ports and payload types are those of every stream of the kind.']],
  ['devices', ['Every box with its own numbers.']],
  ['numbering', ['For the next allocation: `--earlier` with this file holds all numbers.']],
]);
