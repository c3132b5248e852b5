/** What each loss changes, a line a loss. */
import type { LossResult, NamedLoss } from '../../model/timing/index.js';
import type { OutlineLine } from '../../page/page.js';
import { plainText, say, title, type Phrase } from '../../page/phrase.js';
import { effectWords } from './words.js';
import { lossWords } from '../../words/clocks.js';

/** A reference lost in steps is one line while each step does the same. */
export function lossLines(results: readonly LossResult[], most: number): readonly OutlineLine[] {
  const merged: { readonly lost: NamedLoss; label: string; readonly effect: Phrase }[] = [];
  for (const result of results) {
    const { lost } = result;
    const effect = effectWords(result, most);
    const last = merged.at(-1);
    if (last !== undefined && isNextStep(lost, last.lost) && plainText(last.effect) === plainText(effect))
      last.label = last.label.replace(/\)$/, `, then ${lost.clockClass ?? ''})`);
    else merged.push({ lost, label: lossWords(lost), effect });
  }
  return merged.map(({ label, effect }) => ({ depth: 0, text: say`${title(label)}: ${effect}` }));
}

function isNextStep(lost: NamedLoss, before: NamedLoss): boolean {
  return lost.kind === 'reference' && before.kind === 'reference' && lost.name === before.name;
}
