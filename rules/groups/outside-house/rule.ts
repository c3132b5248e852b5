import {
  byLabel, clause, commonPractice, commonRanges, defineRule, formatAddress, freeGroups, groupStanding, imageOf, inRig,
  keepsPromise, legLabel, legSets, listNames, mark, otherMarks, rangeWords, touchOf,
  type Address, type FindingDraft, type HouseGroups, type Leg, type LegSet, type Model,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/outside-house',
  summary: 'A stream uses a group outside the ranges the house promises',
  severity: 'warning',
  sources: [clause('RFC 2365', '6.2'), commonPractice('a house keeps its own table of group ranges per network and kind of stream')],
  needs: ['groups', 'houseGroups'],
  *check({ model, plan }) {
    const free = freeGroups(plan);
    const outside = plan.legs.filter((leg) => breaksPromise(model, leg));
    const sets = legSets(outside, ({ sender }) => `${sender.label}${inRig(sender.rig)}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) yield finding(model, set, free);
  },
});

function breaksPromise(model: Model, leg: Leg): boolean {
  const { group } = leg;
  if (group === undefined || leg.sender.rig.house.groups.length === 0) return false;
  if (model.heldTo(leg).every((promise) => keepsPromise(group, promise))) return false;
  const { house, practice } = leg.sender.rig;
  return groupStanding(group, house, practice) === 'usable' && !brokenByLegMap(model, leg, group);
}

/** `groups/leg-map` names the very group such a leg ought to have, and that one is in its ranges. */
function brokenByLegMap(model: Model, leg: Leg, group: Address): boolean {
  const first = leg.sender.legs[0]?.group;
  if (leg.index !== 1 || first === undefined) return false;
  const image = imageOf(first, leg.sender.rig.house.groupMap);
  return image !== undefined && image !== group && model.heldTo(leg).every((promise) => keepsPromise(image, promise));
}

function finding(model: Model, set: LegSet, free: ReturnType<typeof freeGroups>): FindingDraft {
  const { first, legs, names, subject } = set;
  const broken = new Set<HouseGroups>();
  const sentences = legs.map((leg) => {
    const group = leg.group ?? 0;
    const promises = model.heldTo(leg).filter((promise) => !keepsPromise(group, promise));
    for (const promise of promises) broken.add(promise);
    return `${legLabel(leg)} sends to ${formatAddress(group)}, outside ${promises.map(promiseWords).join(' and outside ')}`;
  });
  return {
    subject,
    parties: names,
    what: sentences.join('; '),
    at: mark(first, `${legLabel(first)}: ${formatAddress(first.group ?? 0)}`, 'group'),
    others: [...otherMarks(set), ...[...broken].map((promise) => mark(promise, promiseWords(promise), 'ranges'))],
    onAir: 'whatever is set up by the ranges (routing, filters, a second rig\'s plan) misses this stream: it may not pass a router, or run into somebody else\'s',
    fix: mend(model, set, free),
    touch: touchOf(first.sender),
  };
}

function promiseWords(promise: HouseGroups): string {
  const { network, vlan, essence, ranges } = promise;
  const selectors = [network === undefined ? [] : `network ${network.name}`, vlan === undefined ? [] : `VLAN ${vlan.name}`, essence ?? []].flat();
  return `the house's ${rangeWords(ranges)}${selectors.length === 0 ? '' : ` for ${selectors.join(', ')}`}`;
}

/** A free group for each leg; the second leg's follows the first's where the house maps them. */
function mend(model: Model, { legs }: LegSet, free: ReturnType<typeof freeGroups>): string {
  let first = legs[0]?.sender.legs[0]?.group;
  const moves = legs.map((leg) => {
    const { rig } = leg.sender;
    const image = leg.index === 1 && first !== undefined ? imageOf(first, rig.house.groupMap) : undefined;
    const target = image ?? free(rig, commonRanges(model.heldTo(leg), leg.group ?? 0));
    if (leg.index === 0 && target !== undefined) first = target;
    return target === undefined ? undefined : `${legLabel(leg)} to ${formatAddress(target)}`;
  });
  const known = moves.flatMap((move) => move ?? []);
  return known.length < moves.length
    ? 'move it into the house\'s range; where the ranges contradict each other or are full, change them under `house: {groups: …}`'
    : `move ${listNames(known)}, free in this plan`;
}
