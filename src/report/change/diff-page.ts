/** What changed between two plans, for a person: in one sentence, then as a change sheet. */
import type { Page } from '../../page/page.js';
import { prose } from '../../page/phrase.js';
import { block, paragraph, rowsPart } from '../../page/rows.js';
import { cautionRow } from '../caution.js';
import { LABEL_ROOM, problemBlocks } from '../problems.js';
import type { DiffResult } from '../../answers/diff.js';
import { sheetBlocks } from './sheet-page.js';
import { summaryWords } from './words.js';

/** One line where nothing changed. */
export function diffPage({ comparison, problems }: DiffResult): Page {
  const unread = problemBlocks(problems);
  if (comparison === undefined) return { blocks: unread };
  const sheet = sheetBlocks(comparison);
  if (comparison.steps.length === 0) return { blocks: [...unread, ...sheet] };
  return {
    blocks: [
      ...unread,
      ...block(paragraph(prose(summaryWords(comparison.summary)))),
      ...sheet,
      ...block(...rowsPart(LABEL_ROOM, cautionRow())),
    ],
  };
}
