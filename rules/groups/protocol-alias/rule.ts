import { regroup } from '../../../src/doors/cures.js';
import {
  clause,
  commonPractice,
  defineRule,
  formatAddress,
  formatMac,
  isIPv4,
  type Leg,
  type Plan,
} from '../../../src/doors/rule.js';
import {
  aliasedClockGroup,
  destinationsOf,
  ethernetAddress,
  floodedEthernetAddress,
  groupFitness,
  legSets,
  setDraft,
} from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

/** The group of every PTP message but peer delay; the other three served PTP version 1. */
const PTP_PRIMARY = 'PTP-primary';

export default defineRule<Facts, string>({
  id: 'groups/protocol-alias',
  summary: "A stream shares the multicast MAC of the clock's messages",
  severity: 'warning',
  sources: [
    clause('RFC 1112', '6.4'),
    clause('RFC 4541', '4'),
    clause('IANA IPv4 Multicast Address Space Registry', '224.0.1.1 and 224.0.1.129 to 224.0.1.132'),
    commonPractice('PTP version 2 uses 224.0.1.129 alone of the four'),
  ],
  needs: ['groups'],
  brief: "shares the clock's multicast MAC",
  harm: 'spoils',
  *check({ model, plan }) {
    const { domains } = model;
    const aliases = model.unusualLegs.groups.filter((leg) => aliasesClock(leg) && !model.strays.isAlone(leg));
    if (aliases.length === 0) return;
    const ptp = runsPtpOverIPv4(plan);
    const macOf = ({ group }: Leg): string => formatMac(ethernetAddress(group ?? 0));
    for (const set of legSets(aliases, (leg) => `${macOf(leg)} in ${domains.switched(leg).key}`)) {
      const { first, legs } = set;
      const clock = typeof first.group === 'number' ? aliasedClockGroup(first.group) : undefined;
      if (clock === undefined) continue;
      const { group, protocol } = clock;
      yield {
        ...setDraft(set),
        severity: ptp && clock.name === PTP_PRIMARY ? 'error' : 'warning',
        cure: () => regroup(model, legs),
        facts: {
          legs,
          mac: macOf(first),
          clockGroup: formatAddress(group),
          clockGroupEnd: [(group >>> 8) & 0xff, group & 0xff],
          protocol,
          where: domains.switched(first).title,
          to: destinationsOf(model, legs),
        },
      };
    }
  },
  words,
});

/** Flooded groups reach every port anyway: `groups/floods`. */
function aliasesClock({ group, sender }: Leg): boolean {
  if (group === undefined || !isIPv4(group) || aliasedClockGroup(group) === undefined || floodedEthernetAddress(group))
    return false;
  const fitness = groupFitness(group, sender.rig.conventions, sender.rig.practice);
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
