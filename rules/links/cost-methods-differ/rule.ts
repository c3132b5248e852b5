import { byLabel, clauseFromMemory, commonPractice, defineRule, mark, noted } from '../../../src/doors/rule.js';
import { createEditList, certainly, setTree } from '../../../src/doors/cures.js';
import { mixedMethods } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/cost-methods-differ',
  summary: 'Switches of one spanning tree count path costs by different methods',
  severity: 'warning',
  sources: [
    clauseFromMemory('IEEE 802.1D-2004', '17.14'),
    commonPractice('all switches of a tree count costs by one method'),
  ],
  needs: ['links', 'portVlans'],
  brief: 'path costs counted two ways',
  harm: 'later',
  *check({ model }) {
    for (const { long, short } of byLabel(mixedMethods(model.network), (one) => one.short[0].name)) {
      const sorted = { long: byLabel(long, ({ name }) => name), short: byLabel(short, ({ name }) => name) };
      const marks = (['short', 'long'] as const).flatMap((method) =>
        sorted[method].map((one) => noted(mark(one, `switch ${one.name}`, 'spanningTree'), method)),
      );
      const [at, ...others] = marks;
      const [first] = short;
      if (at === undefined) continue;
      yield {
        subject: `switches ${[...sorted.short, ...sorted.long]
          .map(({ name }) => name)
          .sort()
          .join(', ')}`,
        parties: [...long, ...short].map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          for (const one of short) setTree(edits, one, { method: 'long' });
          return certainly(edits);
        },
        facts: sorted,
        at,
        others,
        touch: { kind: 'switch', name: first.name },
      };
    }
  },
  words,
});
