import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  imageOf,
  inRig,
  isMulticast,
  legLabel,
  mark,
  toldApartBySource,
  touchOf,
  type Address,
  type GroupUse,
  type Interface,
  type Leg,
  type Model,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/legs-share-group',
  summary: 'Both legs of a stream send to one group where they meet',
  severity: 'error',
  sources: [clause('RFC 7198', '3.1'), clause('RFC 7198', '5'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'pairs'],
  *check({ model }) {
    const shared = model.groups.shared.flatMap((use) => (!isMulticast(use.group) ? [] : sharedByLegs(use)));
    for (const use of byLabel(
      shared,
      ({ legs: [leg], group }) => `${leg?.sender.label ?? ''} ${formatAddress(group)}`,
    )) {
      const { legs } = use;
      const [first, second, ...rest] = byLabel(legs, legLabel);
      if (first === undefined || second === undefined) continue;
      const { sender } = first;
      const group = formatAddress(use.group);
      const onePath = sharesSource(legs);
      const proposal = proposalFor(first, second, model);
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
        fix: mend(first, second, another(proposal)),
        touch: touchOf(sender),
      };
    }
  },
});

/** The part of a use that is one stream's, for each stream with several legs in it that receivers cannot tell apart. */
function sharedByLegs(use: GroupUse): readonly GroupUse[] {
  return [...groupBy(use.legs, (leg) => leg.sender).values()]
    .map((legs) => ({ ...use, legs }))
    .filter((part) => part.legs.length > 1 && !toldApartBySource(part));
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

/** Two legs on one network are one path, whatever their groups. */
function mend(first: Leg, second: Leg, group: string): string {
  if (!onOnePath(first, second)) return `give leg ${second.index + 1} a group of its own${group}`;
  const via = otherInterface(first, second);
  return `send leg ${second.index + 1} from ${via === undefined ? 'an interface on the other network' : `interface ${via.name}`}, and give it a group of its own${group}`;
}

function onOnePath(first: Leg, second: Leg): boolean {
  return (
    (first.interface !== undefined && first.interface === second.interface) ||
    (first.vlan !== undefined && first.vlan === second.vlan)
  );
}

/** The device's interface on a network of that leg number, else its only one on another network for media. */
function otherInterface(first: Leg, second: Leg): Interface | undefined {
  const others = (first.sender.device?.interfaces ?? []).filter(
    ({ network }) => network !== undefined && network !== first.network,
  );
  const byNumber = others.filter(({ network }) => network?.leg === second.index + 1);
  const media =
    byNumber.length > 0
      ? byNumber
      : others.filter(({ network }) => network?.role === undefined || network.role === first.network?.role);
  return media.length === 1 ? media[0] : undefined;
}

/** What the house maps the shared group to counts wherever the second leg is sent from. */
function proposalFor(first: Leg, second: Leg, model: Model): Address | undefined {
  const image = first.group === undefined ? undefined : imageOf(first.group, second.sender.rig.house.groupMap);
  const promises = onOnePath(first, second) ? [] : model.heldTo(second);
  if (image !== undefined && model.proposals.claim(image, second, promises)) return image;
  return onOnePath(first, second) && second.sender.rig.house.groups.length > 0
    ? undefined
    : model.proposals.groupFor(second);
}

function another(proposal: Address | undefined): string {
  return proposal === undefined ? '' : `: ${formatAddress(proposal)}`;
}
