import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, inRig, movesOf } from '../../../src/doors/rule.js';
import { legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/documentation',
  summary: 'A stream uses a group that exists for examples only',
  severity: 'warning',
  sources: [clause('RFC 6676', '2'), clause('RFC 6676', '3'), clause('RFC 5771', '9.2')],
  needs: ['groups'],
  brief: 'group for examples only',
  harm: 'later',
  *check({ model }) {
    const examples = model.misplaced.get('documentation') ?? [];
    const sets = legSets(examples, ({ sender }) => `example groups${inRig(sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject))
      yield {
        ...setDraft(set),
        cure: () => regroup(model, set.legs),
        facts: { legs: set.legs, moves: movesOf(model, set.legs) },
      };
  },
  words,
});
