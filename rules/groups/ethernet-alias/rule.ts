import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatMac,
  groupsOf,
  isIPv4,
  legLabel,
  legSets,
  listNames,
  macKeyedSwitches,
  mayAlias,
  mark,
  otherMarks,
  sharedEthernet,
  touchOf,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 1112', '6.4'), clause('RFC 4541', '4')];
const IPV6 = [clause('RFC 2464', '7'), clause('RFC 4541', '4')];

export default defineRule({
  id: 'groups/ethernet-alias',
  summary: 'Different groups share one Ethernet address where they meet',
  severity: 'warning',
  sources: [...IPV4, clause('RFC 2464', '7')],
  needs: ['groups'],
  *check({ model, plan }) {
    const shared = sharedEthernet(plan, model.domains, model.groupRepeats, mayAlias);
    if (shared.length === 0) return;
    const keyed = macKeyedSwitches(plan, model.domains);
    for (const { mac, domain, also, legs } of byLabel(shared, (one) => `${formatMac(one.mac)} ${one.domain.title}`)) {
      const domains = [domain, ...also];
      const address = formatMac(mac);
      const switches = [...new Set(domains.flatMap((one) => (keyed.get(one) ?? []).map(({ name }) => name)))].sort();
      for (const set of legSets(legs, () => `${address} in ${domain.key}`)) {
        const { first, names, subject } = set;
        const groups = groupsOf(set.legs);
        const change = set.legs.find(({ group }) => group !== first.group) ?? first;
        const proposal = model.proposals.groupFor(change);
        yield {
          subject,
          parties: names,
          severity: switches.length > 0 ? 'error' : 'warning',
          what: `groups ${listNames(groups.map(formatAddress))} share the Ethernet address ${address} in ${listNames(
            domains.map(({ title }) => title),
            3,
          )} (${isIPv4(groups[0] ?? 0) ? '32 groups share each one' : 'all groups with the same last 32 bits do'}): ${listNames(names)}`,
          at: mark(change, `${legLabel(change)}: give this one another group`, 'group'),
          others: otherMarks({ ...set, legs: [change, ...set.legs.filter((leg) => leg !== change)] }),
          onAir:
            switches.length > 0
              ? `${listNames(switches)} ${switches.length === 1 ? 'tells' : 'tell'} groups apart by Ethernet address only: a port that joined one gets all of them, and when it leaves one the others may stop`
              : "receivers of one get the others' packets wherever a switch or network card goes by Ethernet address: extra load, and dropped packets on a full port",
          fix: `change one of ${listNames(groups.map(formatAddress))} so that the ${isIPv4(groups[0] ?? 0) ? 'last 23 bits differ: another last or third number, not only another first one' : 'last 32 bits differ'}${proposal === undefined ? '' : `; ${formatAddress(proposal)} is free`}`,
          touch: touchOf(change.sender),
          sources: isIPv4(groups[0] ?? 0) ? IPV4 : IPV6,
        };
      }
    }
  },
});
