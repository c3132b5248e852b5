/** What was mended and what was not, for a person; the difference itself follows it. */
import { findingText, type Finding } from '../../lint/finding.js';
import type { MendResult } from '../../mend/mend.js';
import type { Block, Page } from '../../page/page.js';
import { copy, name, prose, type Phrase } from '../../page/phrase.js';
import { block, headed, inset, row, rowsPart, titled, toned } from '../../page/rows.js';
import { agree, counted } from '../../words/counts.js';
import { cautionRow } from '../caution.js';
import { LABEL_ROOM, problemBlocks } from '../problems.js';
import { tally } from '../tally.js';
import { leftOutWords } from './words.js';

export function mendPage(result: MendResult): Page {
  const { before, after, mended, left, files } = result;
  return {
    blocks: [
      ...problemBlocks(before.problems),
      ...(mended.length === 0
        ? []
        : [
            headed('MENDED'),
            ...mended.flatMap(({ finding, cure }) => findingBlock(finding, 'How sure', prose(cure.certainty))),
          ]),
      ...(left.length === 0
        ? []
        : [
            headed('NOT MENDED'),
            ...left.flatMap(({ finding, why }) => findingBlock(finding, 'Why', prose(leftOutWords(why)))),
          ]),
      headed(
        'SUMMARY',
        ...rowsPart(LABEL_ROOM, [
          ...titled('Verdict', prose(verdict(result))),
          ...(after === undefined
            ? []
            : row('Left', prose(after.findings.length === 0 ? 'no findings.' : `${tally(after.findings)}.`))),
          ...(files.length === 0
            ? []
            : row('Changes', prose(`${counted(files.length, 'file')}, as shown below; values alone change.`))),
          ...cautionRow(),
        ]),
      ),
    ],
  };
}

function verdict({ before, after, mended, left }: MendResult): string {
  if (after === undefined) return 'Nothing was mended: the plan could not be judged whole.';
  if (before.findings.length === 0) return 'Nothing to mend: there are no findings.';
  const rest =
    left.length === 0 ? '' : `; ${counted(left.length, 'finding')} ${agree(left.length, 'is', 'are')} not mended`;
  return `${counted(mended.length, 'finding')} mended${rest}.`;
}

function findingBlock(finding: Finding, label: string, said: Phrase): readonly Block[] {
  const { severity, rule, subject } = finding;
  return block(
    ...rowsPart(LABEL_ROOM, [
      ...toned(severity, severity.toUpperCase(), [prose(findingText(finding).what)]),
      ...inset(label, said),
      ...inset('Key', [...name('rule'), ...copy('    '), ...name(rule)], [...name('subject'), ...copy(` ${subject}`)]),
    ]),
  );
}
