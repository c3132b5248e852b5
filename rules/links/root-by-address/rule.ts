import { byLabel, clauseFromMemory, commonPractice, defineRule, mark, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setTree } from '../../../src/doors/cures.js';
import { rootsByAddress } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/root-by-address',
  summary: 'Nobody chose the root of the spanning tree, and a switch at the edge is it',
  severity: 'warning',
  confidence: 'likely',
  sources: [
    clauseFromMemory('IEEE 802.1D-2004', '17.14'),
    commonPractice('the root of a tree is chosen, and stands in the middle'),
  ],
  needs: ['links', 'portVlans'],
  brief: 'root chosen by address',
  harm: 'later',
  *check({ model }) {
    for (const { root, better, rateBps, betterBps, switches } of byLabel(
      rootsByAddress(model.network),
      (one) => one.root.name,
    )) {
      yield {
        subject: `switch ${root.name}`,
        parties: switches.map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          setTree(edits, better, { priority: 4096 });
          return certainly(edits);
        },
        facts: { root, better, rateBps, betterBps },
        at: noted(mark(better, `switch ${better.name}`, 'spanningTree'), 'better'),
        others: [noted(mark(root, `switch ${root.name}`, 'spanningTree'), 'root')],
        touch: { kind: 'switch', name: better.name },
      };
    }
  },
  words,
});
