/** The forms formats are said in, for a person. */
import type { FormatForm } from '../../media/said.js';
import type { Page } from '../../page/page.js';
import { copy, prose } from '../../page/phrase.js';
import { block, inset, paragraph, rowsPart } from '../../page/rows.js';

/** Each form with examples to copy. */
export function formsPage(forms: readonly FormatForm[]): Page {
  const labelRoom = Math.max(...forms.map(({ title }) => title.length)) + 4;
  return {
    blocks: [
      ...block(paragraph(prose('A format is said in words, in any order:'))),
      ...forms.flatMap(({ title, examples, more }) => {
        const texts = [...examples.map((example) => copy(`rigproof rate "${example}"`)), prose(`with ${more}`)];
        return block(...rowsPart(labelRoom, inset(title, ...texts)));
      }),
      ...block(paragraph(prose('The number after p counts frames, after i fields. Bit rates are k, M, G.'))),
    ],
  };
}
