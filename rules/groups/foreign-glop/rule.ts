import { regroup } from '../../../src/doors/cures.js';
import { byLabel, clause, defineRule, formatPrefix, inRig, type Leg, movesOf } from '../../../src/doors/rule.js';
import { glopAutonomousSystem, glopPrefix, legSets, setDraft } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/foreign-glop',
  summary: 'Streams use groups that belong to another autonomous system',
  severity: 'warning',
  sources: [clause('RFC 3180', '3'), clause('RFC 5771', '9.1')],
  needs: ['groups'],
  brief: "group of another network's number",
  harm: 'paper',
  *check({ model }) {
    const foreign = model.misplaced.get('foreign-glop') ?? [];
    const sets = legSets(foreign, (leg) => `AS ${systemOf(leg)}${inRig(leg.sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs } = set;
      const own = first.sender.rig.conventions.autonomousSystem;
      const block = own === undefined ? undefined : glopPrefix(own);
      yield {
        ...setDraft(set),
        cure: () => regroup(model, legs),
        facts: {
          legs,
          system: systemOf(first),
          own,
          to: block === undefined ? movesOf(model, legs) : { block: formatPrefix(block) },
        },
      };
    }
  },
  words,
});

function systemOf({ group }: Leg): number {
  return (typeof group === 'number' ? glopAutonomousSystem(group) : undefined) ?? 0;
}
