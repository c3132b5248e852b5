import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, movesOf } from '../../../src/doors/rule.js';
import { assignedGroup4, assignedGroup6, groupSubject, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 5771', '5'), clause('IANA IPv4 Multicast Address Space Registry', "the group's row")];
const IPV6 = [clause('IANA IPv6 Multicast Address Space Registry', "the group's row")];

export default defineRule<Facts, string>({
  id: 'groups/assigned',
  summary: 'A stream uses a group that belongs to a protocol',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['groups'],
  brief: 'group of another protocol',
  harm: 'spoils',
  *check({ model }) {
    const sets = legSets(model.misplaced.get('assigned') ?? [], groupSubject);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { legs } = set;
      const { group } = set.first;
      if (group === undefined) continue;
      const owner = typeof group === 'number' ? assignedGroup4(group) : assignedGroup6(group);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: {
          legs,
          owner: owner === undefined ? undefined : { protocol: owner.protocol, registered: owner.name },
          moves: movesOf(model, legs),
        },
        sources: typeof group === 'number' ? IPV4 : IPV6,
      };
    }
  },
  words,
});
