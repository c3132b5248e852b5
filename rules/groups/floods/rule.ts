import { regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatMac,
  groupsOf,
  isIPv4,
  networkOf,
  type Address,
  type Domain,
  type Leg,
  type Switch,
} from '../../../src/doors/rule.js';
import {
  ethernetAddress,
  floodedEthernetAddress,
  freeMovesOf,
  groupFitness,
  keyings,
  legSets,
  setDraft,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 4541', '2.1.2'), clause('RFC 4541', '4'), clause('RFC 1112', '6.4')];
const IPV6 = [clause('RFC 4541', '2.1.2'), clause('RFC 4541', '3')];

export default defineRule<Facts, string>({
  id: 'groups/floods',
  summary: 'Streams use groups whose multicast MAC switches send to every port',
  severity: 'warning',
  sources: [...IPV4, clause('RFC 4541', '3')],
  needs: ['groups'],
  brief: 'group that floods every port',
  *check({ plan, model }) {
    const { domains } = model;
    const flooded = model.unusualLegs.groups.filter(
      (leg) =>
        leg.group !== undefined &&
        floodedEthernetAddress(leg.group) &&
        counts(leg, leg.group) &&
        !model.strays.isAlone(leg) &&
        !floodsAnyway(domains.switched(leg), leg.group),
    );
    if (flooded.length === 0) return;
    const keyingOf = keyings(plan, domains);
    const sets = legSets(flooded, (leg) => `${blockOf(leg.group ?? 0)} in ${domains.switched(leg).key}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs } = set;
      const ipv4 = isIPv4(first.group ?? 0);
      const { byMac, silent, tellsApart } = keyingOf(domains.switched(first));
      // For IPv6 the standard has ff02::1 alone flooded: another address only by a switch that says it cannot tell.
      if (tellsApart || (!ipv4 && byMac.length === 0)) continue;
      const macs = ipv4 ? groupsOf(legs).map(ethernetAddress) : [ethernetAddress(first.group ?? 0)];
      const moves = freeMovesOf(model, legs);
      yield {
        ...setDraft(set),
        confidence: byMac.length > 0 ? 'certain' : 'assumed',
        cure: () => regroup(model, legs, { offered: moves.form === 'free' ? moves.moves : [] }),
        facts: {
          legs,
          macs: macs.map(formatMac),
          ipv4,
          byMac: namesOf(byMac),
          silent: namesOf(silent),
          where: domains.switched(first).title,
          moves,
        },
        sources: ipv4 ? IPV4 : IPV6,
      };
    }
  },
  words,
});

function counts({ sender }: Leg, group: Address): boolean {
  const fitness = groupFitness(group, sender.rig.conventions, sender.rig.practice);
  return fitness === 'usable' || fitness === 'outside-practice';
}

/** Without snooping a VLAN floods every group, whatever its number. */
function floodsAnyway({ vlans }: Domain, group: Address): boolean {
  return (
    vlans.length > 0 && vlans.every((vlan) => (isIPv4(group) ? vlan.igmp?.snooping : vlan.mld?.snooping) === false)
  );
}

function blockOf(group: Address): string {
  return isIPv4(group) ? `${formatAddress(networkOf(group, 24))}/24` : formatAddress(group);
}

function namesOf(switches: readonly Switch[]): readonly string[] {
  return byLabel(
    switches.map(({ name }) => name),
    (name) => name,
  );
}
