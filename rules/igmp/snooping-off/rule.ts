import {
  byLabel,
  clause,
  defineRule,
  floodFillsPorts,
  floodOver,
  formatRate,
  hostsIn,
  protocolName,
  segmentSubject,
  settingMark,
  settingWith,
  slowestWords,
  snoopingWords,
  streamsWords,
  verbOf,
  type Interface,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/snooping-off',
  summary: 'Snooping is off in a VLAN that carries streams, so every stream goes to every port',
  severity: 'warning',
  sources: [clause('RFC 4541', '1'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'snooping'],
  *check({ plan, model }) {
    for (const segment of model.groupSegments) {
      if (segment.snooping !== false || segment.sent.length + segment.taken.length === 0) continue;
      const setting = settingWith(segment, ({ management }) => management.snooping === false);
      if (setting === undefined) continue;
      const wanted = new Map<Interface, Leg[]>();
      const streams = new Set(segment.sent);
      for (const leg of segment.taken) {
        const heard = model.reception.heard(leg);
        for (const one of heard) streams.add(one);
        if (leg.interface === undefined) continue;
        const own = wanted.get(leg.interface) ?? [];
        wanted.set(leg.interface, own);
        for (const one of heard) own.push(one);
      }
      const hosts = hostsIn(segment, plan, model.domains);
      if (floodFillsPorts(model.load, hosts)) continue;
      const flood = floodOver([...streams], hosts, wanted, (leg) => model.rates.onWire(leg)?.onPort);
      if (flood.hosts.length === 0) continue;
      const worst = Math.max(...flood.hosts.map(({ floodBps }) => floodBps));
      const slowest = slowestWords(flood);
      const name = protocolName(segment.protocol);
      const off = byLabel(
        segment.settings.flatMap(({ vlan, management }) => (management.snooping === false ? [vlan.name] : [])),
        (one) => one,
      );
      yield {
        subject: segmentSubject(segment),
        parties: segment.domain.vlans.map((vlan) => vlan.name),
        what:
          `${name} snooping is off in ${segment.domain.title}, which ${verbOf(segment.domain, 'carries', 'carry')} ${streamsWords(streams.size)}` +
          (worst === 0 ? '' : `: up to ${formatRate(worst)} that nobody there asked for reaches each host port`),
        at: settingMark(setting, `${name} snooping is off`, 'snooping'),
        others: segment.settings
          .filter((one) => one !== setting && one.management.snooping === false)
          .map((one) => settingMark(one, `${name} snooping is off`, 'snooping')),
        onAir: `every stream goes to every port${slowest === undefined ? '' : `; ${slowest}`}; small hosts may drop packets of what they need`,
        fix: snoopingWords(
          off,
          segment.candidates.flatMap(({ on }) => on?.name ?? []),
          segment.routed,
        ),
        touch: { kind: 'vlan', name: setting.vlan.name },
      };
    }
  },
});
