import {
  byLabel,
  clause,
  defineRule,
  ethernetAddress,
  floodedEthernetAddress,
  formatAddress,
  formatMac,
  freeMoves,
  groupsOf,
  groupFitness,
  groupWords,
  isIPv4,
  legLabel,
  legSets,
  listNames,
  mark,
  networkOf,
  otherMarks,
  touchOf,
  type Address,
  type Domain,
  type Leg,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 4541', '2.1.2'), clause('RFC 4541', '4'), clause('RFC 1112', '6.4')];
const IPV6 = [clause('RFC 4541', '2.1.2'), clause('RFC 4541', '3')];

export default defineRule({
  id: 'groups/floods',
  summary: 'Streams use groups whose Ethernet address switches send to every port',
  severity: 'warning',
  sources: [...IPV4, clause('RFC 4541', '3')],
  needs: ['groups'],
  *check({ model }) {
    const { domains } = model;
    const flooded = model.unusualGroups.filter(
      (leg) =>
        leg.group !== undefined &&
        floodedEthernetAddress(leg.group) &&
        counts(leg, leg.group) &&
        !model.strays.isAlone(leg) &&
        !floodsAnyway(domains.switched(leg), leg.group),
    );
    const sets = legSets(flooded, (leg) => `${blockOf(leg.group ?? 0)} in ${domains.switched(leg).key}`);
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      if (first.group === undefined) continue;
      const { title } = domains.switched(first);
      const four = isIPv4(first.group);
      const one = names.length === 1;
      const macs = groupsOf(legs).map((group) => formatMac(ethernetAddress(group)));
      const streams = one ? 'this stream' : names.length === 2 ? 'both streams' : `all ${names.length} streams`;
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${groupsOf(legs).length === 1 ? 'has' : 'have'} ${four ? `the Ethernet ${macs.length === 1 ? 'address' : 'addresses'} ${listNames(macs, 4)}, as 224.0.0.0/24 has` : `the Ethernet address ${formatMac(ethernetAddress(first.group))}, as ff02::1 has`}, which switches send to every port`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir: `every port of ${title} carries ${streams}, joined or not: slow ports fill up and drop packets, first on control and intercom boxes`,
        fix: freeMoves(model, legs, four ? ', other than x.0.0.y and x.128.0.y' : ''),
        touch: touchOf(first.sender),
        sources: four ? IPV4 : IPV6,
      };
    }
  },
});

function counts({ sender }: Leg, group: Address): boolean {
  const fitness = groupFitness(group, sender.rig.house, sender.rig.practice);
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
