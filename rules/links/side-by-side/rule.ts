import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  linkLabel,
  mark,
  noted,
} from '../../../src/doors/rule.js';
import { linkEnds, sideBySide } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/side-by-side',
  summary: 'Links side by side are no aggregate, so all but one carry nothing',
  severity: 'warning',
  confidence: 'likely',
  sources: [
    clauseFromMemory('IEEE 802.1D-2004', '17'),
    clauseFromMemory('IEEE 802.1AX-2020', '6.1'),
    commonPractice('links side by side are one aggregate'),
  ],
  needs: ['links', 'portVlans'],
  brief: 'side by side without an aggregate',
  harm: 'later',
  *check({ model }) {
    for (const { switches, open, idle, known } of byLabel(sideBySide(model.network), (one) => linkEnds(one.idle[0]))) {
      const names = byLabel(
        switches.map(({ name }) => name),
        (name) => name,
      );
      // Who states a tree at both ends may want the second link for a standby.
      const meant = switches.every(({ spanningTree: own }) => own !== undefined);
      const [first] = idle;
      yield {
        subject: names.join(' and '),
        parties: [...open, ...idle].map(linkLabel),
        severity: meant ? 'note' : 'warning',
        cure: () => {
          const edits = createEditList();
          for (const link of [...open, ...idle]) edits.set(link, 'aggregate', names.join('-'));
          return likely(edits);
        },
        facts: { switches, open, idle, known },
        at: noted(mark(first, `link ${linkLabel(first)}`, 'aggregate'), 'idle'),
        others: [
          ...idle.slice(1).map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'aggregate'), 'idle' as const)),
          ...open.map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'aggregate'), 'open' as const)),
        ],
        touch: { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});
