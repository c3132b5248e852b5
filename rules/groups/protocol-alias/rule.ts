import {
  aliasedClockGroup,
  clause,
  commonPractice,
  defineRule,
  ethernetAddress,
  floodedEthernetAddress,
  formatAddress,
  formatMac,
  groupsOf,
  groupFitness,
  groupWords,
  isIPv4,
  legLabel,
  legSets,
  listNames,
  mark,
  otherMarks,
  touchOf,
  whereTo,
  type Leg,
  type Plan,
} from '../../../src/lint/rule.js';

/** The group of every PTP message but peer delay; the other three served PTP version 1. */
const PTP_PRIMARY = 'PTP-primary';

export default defineRule({
  id: 'groups/protocol-alias',
  summary: "A stream shares the Ethernet address of the clock's messages",
  severity: 'warning',
  sources: [
    clause('RFC 1112', '6.4'),
    clause('RFC 4541', '4'),
    clause('IANA IPv4 Multicast Address Space Registry', '224.0.1.1 and 224.0.1.129 to 224.0.1.132'),
    commonPractice('PTP version 2 uses 224.0.1.129 alone of the four'),
  ],
  needs: ['groups'],
  *check({ model, plan }) {
    const { domains } = model;
    const aliases = model.unusualGroups.filter((leg) => aliasesClock(leg) && !model.strays.isAlone(leg));
    if (aliases.length === 0) return;
    const ptp = runsPtpOverIPv4(plan);
    for (const set of legSets(
      aliases,
      (leg) => `${formatMac(ethernetAddress(leg.group ?? 0))} in ${domains.switched(leg).key}`,
    )) {
      const { first, legs, names, subject } = set;
      if (typeof first.group !== 'number') continue;
      const clock = aliasedClockGroup(first.group);
      if (clock === undefined) continue;
      const hot = ptp && clock.name === PTP_PRIMARY;
      yield {
        subject,
        parties: names,
        severity: hot ? 'error' : 'warning',
        what: `${groupWords(legs)} of ${listNames(names)} ${groupsOf(legs).length === 1 ? 'shares' : 'share'} the Ethernet address ${formatMac(ethernetAddress(first.group))} with ${formatAddress(clock.group)}, the group of ${clock.protocol}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir: `every device that follows ${clock.protocol} in ${domains.switched(first).title} takes the stream in wherever a switch or network card goes by Ethernet address: clocks get late or lost messages, and sound and picture timing drifts`,
        fix: `move ${groupsOf(legs).length === 1 ? 'it' : 'each'} to a free group in ${whereTo(model, legs)}, other than ${likes(clock.group)}`,
        touch: touchOf(first.sender),
      };
    }
  },
});

/** Flooded groups reach every port anyway: `groups/floods`. */
function aliasesClock({ group, sender }: Leg): boolean {
  if (group === undefined || !isIPv4(group) || aliasedClockGroup(group) === undefined || floodedEthernetAddress(group))
    return false;
  const fitness = groupFitness(group, sender.rig.house, sender.rig.practice);
  return fitness === 'usable' || fitness === 'outside-practice';
}

/** PTP is stated somewhere, and not only over IPv6 or straight over Ethernet. */
function runsPtpOverIPv4({ devices, ptpDomains, switches }: Plan): boolean {
  const clocks = [...devices, ...switches].flatMap(({ ptp }) =>
    ptp === undefined || ptp.mode === 'none' ? [] : [ptp],
  );
  const settings = [...ptpDomains, ...clocks];
  const transports = new Set(settings.flatMap((one) => one.transport ?? []));
  return settings.length > 0 && (transports.size === 0 || transports.has('udp-ipv4'));
}

/** How the groups look that share the Ethernet address of 224.0.1.129: `x.0.1.129 and x.128.1.129`. */
function likes(group: number): string {
  const tail = `${(group >>> 8) & 255}.${group & 255}`;
  return `x.0.${tail} and x.128.${tail}`;
}
