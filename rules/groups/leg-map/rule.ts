import {
  clause, commonPractice, defineRule, formatAddress, groupStanding, imageOf, inRig, legLabel, listNames, mark,
  touchOf,
  type Address, type FindingDraft, type Leg, type Model,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/leg-map',
  summary: 'The second leg\'s numbers do not follow from the first\'s as the house promises',
  severity: 'warning',
  sources: [clause('RFC 7198', '5'), commonPractice('the second leg keeps the first leg\'s last numbers in a block of its own, and its port')],
  needs: ['groups', 'pairs', 'houseLegMap'],
  *check({ model, plan }) {
    for (const sender of plan.senders) {
      const [first, second] = sender.legs;
      if (first?.group === undefined || second?.group === undefined) continue;
      const { groupMap, portOffset } = sender.rig.house;
      const image = groupMap.length === 0 ? undefined : imageOf(first.group, groupMap);
      // A house that maps some blocks says nothing about pairs outside them.
      if (groupMap.length > 0 && image === undefined) continue;
      const group = image === undefined || image === second.group ? undefined : image;
      const port = portOffset === undefined || first.port === undefined || second.port === undefined || second.port === first.port + portOffset ? undefined : first.port + portOffset;
      if (group === undefined && port === undefined) continue;
      if (!judged(model, first, second)) continue;
      yield finding(first, second, group, port);
    }
  },
});

/** Silent where the group itself is misplaced, or shared by both legs where they meet: other rules name that cause. */
function judged({ domains }: Model, first: Leg, second: Leg): boolean {
  const { house, practice } = first.sender.rig;
  const misplaced = [first, second].some(({ group }) => group !== undefined && groupStanding(group, house, practice) !== 'usable');
  return !misplaced && (first.group !== second.group || domains.reach(first) !== domains.reach(second));
}

function finding(first: Leg, second: Leg, group: Address | undefined, port: number | undefined): FindingDraft {
  const { sender } = second;
  const faults = [
    group === undefined ? [] : `has group ${formatAddress(second.group ?? 0)} where the house maps ${formatAddress(first.group ?? 0)} to ${formatAddress(group)}`,
    port === undefined ? [] : `has UDP port ${String(second.port)} where ${String(first.port)} on leg 1 asks for ${port}`,
  ].flat();
  const key = group === undefined ? 'port' : 'group';
  return {
    subject: `${sender.label}${inRig(sender.rig)}`,
    parties: [legLabel(first), legLabel(second)],
    what: `${legLabel(second)} ${faults.join(', and ')}`,
    at: mark(second, `${legLabel(second)}: ${group === undefined ? `port ${String(second.port)}` : formatAddress(second.group ?? 0)}`, key),
    others: [mark(first, `${legLabel(first)}: ${group === undefined ? `port ${String(first.port)}` : formatAddress(first.group ?? 0)}`, key)],
    onAir: 'receivers set up by the house rule join the wrong second leg: they run on one leg, and go black when that one fails',
    fix: `set leg 2 to ${listNames([group === undefined ? [] : `group ${formatAddress(group)}`, port === undefined ? [] : `port ${port}`].flat())}`,
    touch: touchOf(sender),
  };
}
