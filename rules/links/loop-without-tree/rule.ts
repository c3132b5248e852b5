import { createEditList, likely, setTree } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  linkLabel,
  mark,
  noted,
} from '../../../src/doors/rule.js';
import { openLoops } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/loop-without-tree',
  summary: 'Links make a loop that no spanning tree breaks',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1D-2004', '17'),
    clauseFromMemory('IEEE 802.1D-2004', '7.12.6'),
    commonPractice('a loop is broken by a tree, an aggregate or a router'),
  ],
  needs: ['links', 'portVlans'],
  brief: 'loop that no spanning tree breaks',
  explains: ['storm'],
  *check({ model }) {
    const loops = openLoops(model.network);
    for (const { links, silent, vlans, stated } of byLabel(loops, (one) =>
      one.silent.map(({ name }) => name).join(' '),
    )) {
      const [first, ...more] = silent;
      yield {
        subject: `loop at ${silent.map(({ name }) => name).join(', ')}`,
        parties: [...silent.map(({ name }) => name), ...links.map(linkLabel), ...vlans.map(({ name }) => name)],
        severity: stated ? 'error' : 'warning',
        confidence: stated ? 'certain' : 'assumed',
        cure: () => {
          const edits = createEditList();
          for (const one of silent) setTree(edits, one, { mode: 'rstp' });
          return likely(edits);
        },
        facts: { links, silent, vlans, stated },
        at: noted(mark(first, `switch ${first.name}`, 'spanningTree'), 'none'),
        others: [
          ...more.map((one) => noted(mark(one, `switch ${one.name}`, 'spanningTree'), 'none' as const)),
          ...links.map((link) => noted(mark(link, `link ${linkLabel(link)}`), 'loop' as const)),
        ],
        touch: { kind: 'switch', name: first.name },
      };
    }
  },
  words,
});
