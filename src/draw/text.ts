/** Pages for a terminal or a text file, wrapped to a width. Knows the vocabulary of pages and nothing of what they are about. */
import { escapeText } from '../page/escape.js';
import type { Block, Outline, Page, Part, Row, Rows } from '../page/page.js';
import { prose } from '../page/phrase.js';
import { chunksOf, hang, indented, wrap } from './layout.js';
import { createPaint, type Paint } from './paint.js';
import { tableLines } from './text-table.js';
import { measure } from './width.js';

export interface TextOptions {
  /** Columns a line may take. */
  readonly width: number;
  /** Whether text may carry SGR colour codes. Colour repeats what words say; it never adds to them. */
  readonly colour: boolean;
}

/** Blocks with an empty line between them. */
export function drawText({ blocks }: Page, { width, colour }: TextOptions): string {
  const paint = createPaint(colour);
  return blocks.map((block) => `${blockLines(block, width, paint).join('\n')}\n`).join('\n');
}

function blockLines({ heading, parts }: Block, width: number, paint: Paint): readonly string[] {
  return [
    ...(heading === undefined ? [] : headingLines(heading, width, paint)),
    ...parts.flatMap((part) => partLines(part, width, paint)),
  ];
}

function partLines(part: Part, width: number, paint: Paint): readonly string[] {
  switch (part.kind) {
    case 'rows':
      return part.rows.flatMap((row) => rowLines(row, part, width, paint));
    case 'outline':
      return outlineLines(part, width, paint);
    case 'table':
      return part.inset === true
        ? indented(tableLines(part, width - INSET, paint), INSET, INSET)
        : tableLines(part, width, paint);
    case 'paragraph':
      return wrap(chunksOf(part.text, paint), width);
    case 'list':
      return part.items.flatMap((item) => hang('-', chunksOf(item, paint), { width, indent: INSET }));
  }
}

const HEADING_INDENT = 4;
const INSET = 2;

/** Further lines are set in, so that no name from a plan can pass for a line of the report. */
function headingLines(heading: string, width: number, paint: Paint): readonly string[] {
  const wrapped = wrap(chunksOf(prose(heading), paint), width - HEADING_INDENT);
  const lines = indented(wrapped, 0, HEADING_INDENT);
  const columns = Math.min(width, Math.max(...lines.map(measure)));
  return [...lines.map((line) => paint('title', line)), '-'.repeat(columns)];
}

function rowLines(row: Row, { labelRoom }: Rows, width: number, paint: Paint): readonly string[] {
  if (width < LEAST_BESIDE && labelRoom > MOST_KEPT) return narrowLines(row, width, paint);
  const label = labelOf(row, labelRoom);
  const frame = { width, indent: labelRoom, paintLabel: (text: string) => paint(row.tone, text) };
  return row.texts.flatMap((text, index) => hang(index === 0 ? label : '', chunksOf(text, paint), frame));
}

/** Columns below which labels stand in the first line of their texts, not beside all lines: a phone has forty. */
const LEAST_BESIDE = 60;
/** Room of labels that stay beside their texts at any width. */
const MOST_KEPT = 6;

/** Texts go on in odd columns, where no label starts, so that no name passes for a row of its own. */
function narrowLines({ label, tone, inset, texts }: Row, width: number, paint: Paint): readonly string[] {
  const first = inset === true ? INSET : 0;
  const others = first + 3;
  const said = escapeText(label);
  return texts.flatMap((text, index) => {
    const chunks = chunksOf(text, paint);
    const isLabelled = index === 0 && said !== '';
    const before = isLabelled ? [{ plain: said, drawn: paint(tone, said), gap: 0 }] : [];
    const indent = isLabelled ? first : others;
    const set = chunks.map((one, place) => (place === 0 && isLabelled ? { ...one, gap: 2 } : one));
    return indented(wrap([...before, ...set], width - others, width - indent), indent, others);
  });
}

/** Counts end below each other, half way to what they count. */
function labelOf({ label, tone, inset }: Row, labelRoom: number): string {
  const text = escapeText(label);
  if (tone === 'count') return text.padStart(Math.floor(labelRoom / 2));
  return inset === true ? `  ${text}` : text;
}

/** Setting in stops before it eats the width. */
function outlineLines({ lines }: Outline, width: number, paint: Paint): readonly string[] {
  const deepest = Math.max(1, Math.floor(width / 8));
  return lines.flatMap(({ depth, text }) => {
    const indent = 2 + 2 * Math.min(depth, deepest);
    // Lines start in even columns and go on in odd ones, so that no name passes for a line of its own.
    return indented(wrap(chunksOf(text, paint), width - indent - 3), indent, indent + 3);
  });
}
