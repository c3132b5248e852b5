/** A drawing of pages as a bare outline, written against their vocabulary alone: what any drawing can rely on. */
import type { Block, Cell, Page, Part, TableRow } from '../../src/page/page.js';
import { plainText } from '../../src/page/phrase.js';

/** Headings with `##`, everything else as lists. */
export function drawOutline({ blocks }: Page): string {
  return blocks.flatMap(blockLines).join('\n');
}

function blockLines({ heading, parts }: Block): readonly string[] {
  return [...(heading === undefined ? [] : [`## ${heading}`]), ...parts.flatMap(partLines)];
}

function partLines(part: Part): readonly string[] {
  switch (part.kind) {
    case 'rows':
      return part.rows.flatMap(({ label, texts }) => [`- ${label}`, ...texts.map((text) => `  - ${plainText(text)}`)]);
    case 'outline':
      return part.lines.map(({ depth, text }) => `${'  '.repeat(depth)}- ${plainText(text)}`);
    case 'table':
      return [
        part.columns.map(({ heading = '' }) => heading).join(' | '),
        ...part.rows.flatMap(({ cells, details = [] }) => [cells.map(cellText).join(' | '), ...detailLines(details)]),
      ];
    case 'paragraph':
      return [plainText(part.text)];
    case 'list':
      return part.items.map((item) => `- ${plainText(item)}`);
  }
}

function cellText(cell: Cell): string {
  if (cell === null) return '';
  return typeof cell === 'object' ? plainText(cell) : String(cell);
}

/** What folded columns would say is in the columns here. */
function detailLines(details: NonNullable<TableRow['details']>): readonly string[] {
  return details.flatMap(({ label, text }) => (text === undefined ? [] : [`  - ${label}: ${plainText(text)}`]));
}
