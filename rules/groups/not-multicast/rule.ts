import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, inRig, movesOf } from '../../../src/doors/rule.js';
import { isUnspecified, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 1112', '4')];
const IPV6 = [clause('RFC 4291', '2.7')];

export default defineRule<Facts, string>({
  id: 'groups/not-multicast',
  summary: 'A group is not a multicast address',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['groups'],
  brief: 'not a multicast group',
  explains: ['not multicast'],
  *check({ model }) {
    const wrong = model.misplaced.get('not-multicast') ?? [];
    const sets = legSets(wrong, ({ sender }) => `${sender.label}${inRig(sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs } = set;
      const ipv4 = typeof first.group === 'number';
      const empty = legs.every(({ group }) => group !== undefined && isUnspecified(group));
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: { sender: first.sender, legs, empty, ipv4, moves: movesOf(model, legs) },
        sources: ipv4 ? IPV4 : IPV6,
      };
    }
  },
  words,
});
