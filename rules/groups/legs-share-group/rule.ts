import {
  byLabel, clause, commonRanges, defineRule, formatAddress, freeGroups, groupBy, imageOf, inRig, isMulticast,
  legLabel, mark, toldApartBySource, touchOf,
  type Address, type GroupUse, type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/legs-share-group',
  summary: 'Both legs of a stream send to one group where they meet',
  severity: 'error',
  sources: [clause('RFC 7198', '3.1'), clause('RFC 7198', '5'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'pairs'],
  *check({ model, plan }) {
    const free = freeGroups(plan);
    const shared = model.groups.shared.flatMap((use) => (!isMulticast(use.group) ? [] : sharedByLegs(use)));
    for (const use of byLabel(shared, ({ legs: [leg], group }) => `${leg?.sender.label ?? ''} ${formatAddress(group)}`)) {
      const { legs } = use;
      const [first, second, ...rest] = byLabel(legs, legLabel);
      if (first === undefined || second === undefined) continue;
      const { sender } = first;
      const group = formatAddress(use.group);
      const onePath = sharesSource(legs);
      const proposal = imageOf(use.group, sender.rig.house.groupMap) ?? free(sender.rig, commonRanges(model.heldTo(second), use.group));
      yield {
        subject: `${sender.label} ${group} in ${use.domain.key}${inRig(sender.rig)}`,
        parties: legs.map(legLabel),
        severity: onePath ? 'error' : 'warning',
        what: `both legs of ${sender.label} send to ${group} in ${use.domain.title}${sourceWords(legs, onePath)}`,
        at: mark(second, `${legLabel(second)}: give this one another group`, 'group'),
        others: [first, ...rest].map((leg) => mark(leg, legLabel(leg), 'group')),
        onAir: onePath
          ? 'the network treats the two copies as one stream on one path: when a cable or switch of it fails, both are lost and the output goes black'
          : 'each receiver gets both copies on each of its ports: twice the load, and a port that is full drops packets of both',
        fix: `give leg ${second.index + 1} a group of its own${another(proposal, use.group)}`,
        touch: touchOf(sender),
      };
    }
  },
});

/** The part of a use that is one stream's, for each stream with several legs in it that receivers cannot tell apart. */
function sharedByLegs(use: GroupUse): readonly GroupUse[] {
  return [...groupBy(use.legs, (leg) => leg.sender).values()].map((legs) => ({ ...use, legs })).filter((part) => part.legs.length > 1 && !toldApartBySource(part));
}

/** Same source and same group: the network cannot tell the copies apart (RFC 7198 §3.1). */
function sharesSource(legs: readonly Leg[]): boolean {
  const stated = legs.flatMap((leg) => leg.source ?? []);
  return new Set(stated).size < stated.length;
}

function sourceWords(legs: readonly Leg[], onePath: boolean): string {
  if (onePath) return ', from one source';
  return legs.every((leg) => leg.source !== undefined) ? ', which forwards by group whatever the source' : '';
}

function another(proposal: Address | undefined, group: Address): string {
  return proposal === undefined || proposal === group ? '' : `: ${formatAddress(proposal)}`;
}
