import { certainly, createEditList, type Cure, regroup, peopleDecide, listenersOf } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  inRig,
  legLabel,
  mark,
  noted,
  touchOf,
  type Address,
  type FindingDraft,
  type Leg,
  type Model,
} from '../../../src/doors/rule.js';
import { brokenLegMap, groupFitness } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'groups/leg-map',
  summary: "The second leg's numbers do not follow from the first's as the house promises",
  severity: 'warning',
  sources: [
    clause('RFC 7198', '5'),
    commonPractice("the second leg keeps the first leg's last numbers in a block of its own, and its port"),
  ],
  needs: ['groups', 'pairs', 'houseLegMap'],
  brief: 'second leg off the map',
  *check({ model, plan }) {
    const offPort = new Set<Leg | undefined>(model.unusualNumbers.offPort);
    for (const sender of plan.senders) {
      const broken = brokenLegMap(sender, offPort.has(sender.legs[1]));
      if (broken === undefined) continue;
      const { first, second, group, port } = broken;
      const judged = group !== undefined && isJudged(model, first, second);
      if (!judged && port === undefined) continue;
      const wanted = judged ? wantedGroup(group, second, model) : undefined;
      yield { ...finding(first, second, wanted, port), cure: () => cure(model, second, wanted, port) };
    }
  },
  words,
});

/** A group that is misplaced, outside the house's ranges or used by another stream too has a finding of its own. */
function isJudged({ domains, groups, strays }: Model, first: Leg, second: Leg): boolean {
  const { house, practice } = first.sender.rig;
  if (first.group === second.group && domains.reach(first) === domains.reach(second)) return false;
  return [first, second].every((leg) => {
    if (leg.group === undefined || strays.has(leg) || groupFitness(leg.group, house, practice) !== 'usable')
      return false;
    const use = groups.find(domains.reach(leg), leg.group);
    return use === undefined || use.legs.every(({ sender }) => sender === leg.sender);
  });
}

function wantedGroup(wanted: Address, second: Leg, model: Model): NonNullable<Facts['group']> {
  const group = formatAddress(wanted);
  if (model.proposals.claim(wanted, second)) return { wanted: group, taken: undefined };
  const users = model.groups.usesOf(wanted).flatMap(({ legs }) => legs);
  const [user] = byLabel(users, legLabel);
  return { wanted: group, taken: user === undefined ? 'outside-ranges' : { by: user } };
}

function finding(
  first: Leg,
  second: Leg,
  group: Facts['group'],
  port: number | undefined,
): FindingDraft<Facts, string> {
  const { sender } = second;
  const key = group === undefined ? 'port' : 'group';
  const says = (leg: Leg): string => (key === 'port' ? `port ${String(leg.port)}` : formatAddress(leg.group ?? 0));
  return {
    subject: `${sender.label}${inRig(sender.rig)}`,
    parties: [legLabel(first), legLabel(second)],
    facts: {
      first,
      second,
      groups: [formatAddress(first.group ?? 0), formatAddress(second.group ?? 0)],
      ports: [first.port, second.port],
      group,
      port,
    },
    at: noted(mark(second, legLabel(second), key), says(second)),
    others: [noted(mark(first, legLabel(first), key), says(first))],
    touch: touchOf(sender),
  };
}

/** The second leg follows the first; where what the house maps it to is not free, both move. */
function cure(model: Model, second: Leg, group: Facts['group'], port: number | undefined): Cure {
  const edits = createEditList();
  if (port !== undefined && port % 2 === 1) return peopleDecide('which offset the house means: RTP goes to even ports');
  if (port !== undefined) {
    edits.setWhereWritten(second, 'port', port);
    for (const leg of listenersOf(model, second))
      if (leg.port !== undefined && leg.port !== port) edits.setWhereWritten(leg, 'port', port);
  }
  if (group === undefined) return certainly(edits);
  const moved =
    group.taken === undefined
      ? regroup(model, [second], { offered: [{ leg: second, group: group.wanted }] })
      : regroup(model, second.sender.legs);
  if (moved.certainty === 'people') return moved;
  for (const edit of moved.edits) edits.put(edit, edit.value);
  return certainly(edits);
}
