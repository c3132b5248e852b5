import { byLabel, clause, defineRule, formatRange, inRig, type Leg } from '../../../src/doors/rule.js';
import { classifyGroup4, legSets, movesOf, setDraft } from '../../../src/doors/groups.js';
import { blockWords, words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/reserved-block',
  summary: 'Streams use a block of groups that is not theirs to use',
  severity: 'error',
  sources: [
    clause('RFC 5771', '13'),
    clause('RFC 5771', '6'),
    clause('RFC 5771', '7.1'),
    clause('RFC 5771', '9.2'),
    clause('RFC 2365', '6.3'),
  ],
  needs: ['groups'],
  brief: 'group from a reserved block',
  *check({ model }) {
    const reserved = model.misplaced.get('reserved-block') ?? [];
    const sets = legSets(reserved, (leg) => {
      const block = blockOf(leg);
      return `${block === undefined ? '' : blockWords(block)}${inRig(leg.sender.rig)}`;
    });
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs } = set;
      const block = blockOf(first);
      if (block === undefined) continue;
      yield {
        ...setDraft(set),
        severity: block.kind === 'ad-hoc' ? 'warning' : 'error',
        facts: { legs, block, moves: movesOf(model, legs) },
      };
    }
  },
  words,
});

function blockOf({ group }: Leg): Facts['block'] | undefined {
  if (typeof group !== 'number') return undefined;
  const { kind, title, range } = classifyGroup4(group);
  return { kind, title, range: formatRange(range) };
}
