import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, formatAddress, movesOf } from '../../../src/doors/rule.js';
import { assignedGroup4, groupSubject, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/scope-top',
  summary: 'A stream uses a group of the last 256 of a scope, which protocols own',
  severity: 'error',
  sources: [clause('RFC 2365', '9'), clause('IANA IPv4 Multicast Address Space Registry', 'scope-relative groups')],
  needs: ['groups'],
  brief: 'group that protocols own',
  *check({ model }) {
    const sets = legSets(model.misplaced.get('scope-top') ?? [], groupSubject);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { legs } = set;
      const { group } = set.first;
      if (typeof group !== 'number') continue;
      const owner = assignedGroup4(group);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: {
          legs,
          top: `${formatAddress((group & 0xffffff00) >>> 0)}/24`,
          protocol: owner?.held === true ? owner.protocol : undefined,
          moves: movesOf(model, legs),
        },
      };
    }
  },
  words,
});
