import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  groupFitness,
  imageOf,
  inRig,
  legLabel,
  listNames,
  mark,
  touchOf,
  type Address,
  type WordedDraft,
  type Leg,
  type Model,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/leg-map',
  summary: "The second leg's numbers do not follow from the first's as the house promises",
  severity: 'warning',
  sources: [
    clause('RFC 7198', '5'),
    commonPractice("the second leg keeps the first leg's last numbers in a block of its own, and its port"),
  ],
  needs: ['groups', 'pairs', 'houseLegMap'],
  *check({ model, plan }) {
    const offPort = new Set<Leg | undefined>(model.unusualNumbers.offPort);
    for (const sender of plan.senders.filter((one) => breaksMap(one) || offPort.has(one.legs[1]))) {
      const [first, second] = sender.legs;
      if (first?.group === undefined || second?.group === undefined) continue;
      const { groupMap, portOffset } = sender.rig.house;
      const image = groupMap.length === 0 ? undefined : imageOf(first.group, groupMap);
      // A house that maps some blocks says nothing about pairs outside them.
      if (groupMap.length > 0 && image === undefined) continue;
      const group = image === undefined || image === second.group ? undefined : image;
      const port =
        portOffset === undefined ||
        first.port === undefined ||
        second.port === undefined ||
        second.port === first.port + portOffset
          ? undefined
          : first.port + portOffset;
      if (group === undefined && port === undefined) continue;
      const judged = group !== undefined && isJudged(model, first, second);
      if (!judged && port === undefined) continue;
      yield finding(first, second, judged ? wantedGroup(group, second, model) : undefined, port);
    }
  },
});

/** Whether the second group is another than the one the house derives from the first. */
function breaksMap({ legs: [first, second], rig }: Sender): boolean {
  if (first?.group === undefined || second?.group === undefined) return false;
  const image = imageOf(first.group, rig.house.groupMap);
  return image !== undefined && image !== second.group;
}

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

interface WantedGroup {
  /** What the house maps the first leg's group to. */
  readonly wanted: Address;
  /** Why the second leg cannot have it: another stream does, or it is not in its ranges. */
  readonly why: string | undefined;
}

function wantedGroup(wanted: Address, second: Leg, model: Model): WantedGroup {
  if (model.proposals.claim(wanted, second)) return { wanted, why: undefined };
  const users = byLabel(
    model.groups.usesOf(wanted).flatMap(({ legs }) => legs),
    legLabel,
  );
  return {
    wanted,
    why: users[0] === undefined ? 'is outside the ranges for leg 2' : `belongs to ${legLabel(users[0])}`,
  };
}

function finding(first: Leg, second: Leg, group: WantedGroup | undefined, port: number | undefined): WordedDraft {
  const { sender } = second;
  const faults = [
    group === undefined
      ? []
      : `has group ${formatAddress(second.group ?? 0)} where the house maps ${formatAddress(first.group ?? 0)} to ${formatAddress(group.wanted)}`,
    port === undefined
      ? []
      : `has UDP port ${String(second.port)} where ${String(first.port)} on leg 1 asks for ${port}`,
  ].flat();
  const key = group === undefined ? 'port' : 'group';
  const onlyPort = group?.why !== undefined || group === undefined;
  return {
    subject: `${sender.label}${inRig(sender.rig)}`,
    parties: [legLabel(first), legLabel(second)],
    what: `${legLabel(second)} ${faults.join(', and ')}`,
    at: mark(
      second,
      `${legLabel(second)}: ${group === undefined ? `port ${String(second.port)}` : formatAddress(second.group ?? 0)}`,
      key,
    ),
    others: [
      mark(
        first,
        `${legLabel(first)}: ${group === undefined ? `port ${String(first.port)}` : formatAddress(first.group ?? 0)}`,
        key,
      ),
    ],
    onAir:
      'receivers set up by the house rule join the wrong second leg: they run on one leg, and lose the stream when that one fails',
    fix: [
      ...(onlyPort && port === undefined
        ? []
        : [
            `set leg 2 to ${listNames([onlyPort ? [] : `group ${formatAddress(group.wanted)}`, port === undefined ? [] : `port ${port}`].flat())}`,
          ]),
      ...(group?.why === undefined
        ? []
        : [`give the stream another pair of groups that fit the map: ${formatAddress(group.wanted)} ${group.why}`]),
    ].join('; '),
    touch: touchOf(sender),
  };
}
