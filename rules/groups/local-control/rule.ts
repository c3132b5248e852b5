import { regroup } from '../../../src/doors/cures.js';
import { clause, defineRule } from '../../../src/doors/rule.js';
import {
  assignedGroup4,
  assignedGroup6,
  destinationsOf,
  groupSubject,
  legSets,
  setDraft,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/local-control',
  summary: 'A stream uses a group that belongs to the control protocols of the link',
  severity: 'error',
  sources: [clause('RFC 5771', '4'), clause('RFC 4291', '2.7'), clause('RFC 4541', '2.1.2')],
  needs: ['groups'],
  brief: 'group that never leaves the link',
  explains: ['not routed'],
  *check({ model }) {
    for (const set of legSets(model.misplaced.get('link-control') ?? [], groupSubject)) {
      const { legs } = set;
      const { group } = set.first;
      if (group === undefined) continue;
      const owner = typeof group === 'number' ? assignedGroup4(group) : assignedGroup6(group);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: {
          legs,
          ipv4: typeof group === 'number',
          protocol: owner?.protocol,
          to: destinationsOf(model, legs),
        },
      };
    }
  },
  words,
});
