import {
  clause, defineRule, ethernetAddress, floodedEthernetAddress, formatAddress, formatMac, groupsOf, groupStanding,
  groupWords, isIPv4, legLabel, legSets, listNames, mark, networkOf, otherMarks, touchOf, whereTo,
  type Address, type Domain, type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/floods',
  summary: 'Streams use groups whose Ethernet address switches send to every port',
  severity: 'warning',
  sources: [clause('RFC 4541', '2.1.2'), clause('RFC 4541', '4'), clause('RFC 1112', '6.4'), clause('RFC 4541', '3')],
  needs: ['groups'],
  *check({ model, plan }) {
    const { domains } = model;
    const flooded = plan.legs.filter((leg) => leg.group !== undefined && floodedEthernetAddress(leg.group) && counts(leg, leg.group) && !floodsAnyway(domains.switched(leg), leg.group));
    for (const set of legSets(flooded, (leg) => `${blockOf(leg.group ?? 0)} in ${domains.switched(leg).key}`)) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const { title } = domains.switched(first);
      const four = isIPv4(first.group);
      const one = names.length === 1;
      const streams = one ? 'this stream' : names.length === 2 ? 'both streams' : `all ${names.length} streams`;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${groupsOf(legs).length === 1 ? 'has' : 'have'} ${four ? 'an Ethernet address 01:00:5e:00:00:xx, as 224.0.0.0/24 has' : `the Ethernet address ${formatMac(ethernetAddress(first.group))}, as ff02::1 has`}, which switches send to every port`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir: `every port of ${title} carries ${streams}, joined or not: slow ports fill up and drop packets, first on control and intercom boxes`,
        fix: `move ${one ? 'it' : 'each'} to a free group in ${whereTo(model, legs)}${four ? ', other than x.0.0.y and x.128.0.y' : ''}`,
        touch: touchOf(first.sender),
      };
    }
  },
});

function counts({ sender }: Leg, group: Address): boolean {
  const standing = groupStanding(group, sender.rig.house, sender.rig.practice);
  return standing === 'usable' || standing === 'outside-practice';
}

/** Without snooping a VLAN floods every group, whatever its number. */
function floodsAnyway({ vlans }: Domain, group: Address): boolean {
  return vlans.length > 0 && vlans.every((vlan) => (isIPv4(group) ? vlan.igmp?.snooping : vlan.mld?.snooping) === false);
}

function blockOf(group: Address): string {
  return isIPv4(group) ? `${formatAddress(networkOf(group, 24))}/24` : formatAddress(group);
}
