/** Articles as Markdown. What is Markdown in their texts is meant so. */
import { escapeText } from '../page/escape.js';
import type { Article, List, Paragraph } from '../page/page.js';
import { plainText, type Phrase } from '../page/phrase.js';

/** Headings, paragraphs and lists with an empty line between them. */
export function drawMarkdown({ blocks }: Article): string {
  const parts = blocks.flatMap(({ heading, parts: own }) => [
    ...(heading === undefined ? [] : [`## ${escapeText(heading)}`]),
    ...own.map(partText),
  ]);
  return `${parts.join('\n\n')}\n`;
}

function partText(part: Paragraph | List): string {
  return part.kind === 'list' ? part.items.map((item) => `- ${oneLine(item)}`).join('\n') : oneLine(part.text);
}

function oneLine(phrase: Phrase): string {
  return escapeText(plainText(phrase));
}
