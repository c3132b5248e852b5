import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  glopAutonomousSystem,
  glopPrefix,
  groupsOf,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  moveWords,
  otherMarks,
  touchOf,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/foreign-glop',
  summary: 'Streams use groups that belong to another autonomous system',
  severity: 'warning',
  sources: [clause('RFC 3180', '3'), clause('RFC 5771', '9.1')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('foreign-glop') ?? [],
      (leg) => `AS ${systemOf(leg)}${inRig(leg.sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const system = systemOf(first);
      const { autonomousSystem } = first.sender.rig.house;
      const many = groupsOf(legs).length > 1;
      const own = autonomousSystem === undefined ? undefined : glopPrefix(autonomousSystem);
      const ours =
        autonomousSystem === undefined
          ? 'the plan states no AS number of its own'
          : `this rig holds AS ${autonomousSystem}`;
      yield {
        subject,
        parties: names,
        what:
          system === 0
            ? `${groupWords(legs)} of ${listNames(names)} ${many ? 'belong' : 'belongs'} to AS 0, which nobody holds`
            : `${groupWords(legs)} of ${listNames(names)} ${many ? 'belong' : 'belongs'} to the holder of AS ${system}; ${ours}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir:
          system === 0
            ? 'nothing while the rig stands alone; other networks drop the group, and a feed over them never arrives'
            : 'nothing while the rig stands alone; on a network shared with the holder, receivers get both streams and the picture breaks up',
        fix: `${own === undefined ? moveWords(model, legs) : `move ${many ? 'each' : 'it'} to a free group in ${formatPrefix(own)}`}${system === 0 || autonomousSystem !== undefined ? '' : `; if the rig holds AS ${system}, state \`house: {autonomousSystem: ${system}}\``}`,
        touch: touchOf(first.sender),
      };
    }
  },
});

function systemOf({ group }: Leg): number {
  return (typeof group === 'number' ? glopAutonomousSystem(group) : undefined) ?? 0;
}
