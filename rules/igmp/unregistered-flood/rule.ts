import {
  byLabel,
  clause,
  defineRule,
  floodFillsPorts,
  floodOver,
  formatRate,
  hostPortWords,
  hostsIn,
  legLabel,
  listNames,
  mark,
  segmentSubject,
  streamsWords,
  verbOf,
  type GroupSegment,
  type Mark,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'igmp/unregistered-flood',
  summary: 'Heavy streams nobody takes are flooded to every port',
  severity: 'warning',
  sources: [clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'receivers', 'unregistered', 'switchPorts'],
  thresholds: {
    percent: { default: 10, what: 'share of the slowest flooded port that unwanted streams may take, in percent' },
  },
  *check({ plan, model, threshold }) {
    for (const segment of model.groupSegments) {
      const { domain, forwarding } = segment;
      if (forwarding?.conduct.unregistered !== 'flood') continue; // flows are costly to ask for
      const streams = segment.flows.filter(({ flood }) => flood === 'unregistered').map(({ leg }) => leg);
      const [where, ...rest] = placesOf(segment);
      if (streams.length === 0 || where === undefined) continue;
      const hosts = hostsIn(segment, plan, model.domains);
      if (floodFillsPorts(model.load, hosts)) continue;
      const flood = floodOver(streams, hosts, new Map(), (leg) => model.rates.onWire(leg)?.onPort);
      const { slowest } = flood;
      if (slowest?.rateBps === undefined || slowest.floodBps * 100 <= slowest.rateBps * threshold('percent')) continue;
      const names = byLabel(streams, legLabel).map(legLabel);
      const share = Math.round((slowest.floodBps / slowest.rateBps) * 100);
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...names],
        what:
          `${domain.title} ${verbOf(domain, 'floods', 'flood')} groups nobody joined: ${formatRate(slowest.floodBps)} of ${streamsWords(streams.length)} nobody takes (${listNames(names, 3)})` +
          ` ${streams.length === 1 ? 'reaches' : 'reach'} every host port, ${share} % of the slowest, ${hostPortWords(slowest.host, slowest.rateBps)}`,
        at: where.mark,
        others: [
          ...rest.map((one) => one.mark),
          ...byLabel(streams, legLabel).map((leg) => mark(leg, `${legLabel(leg)}: nobody takes it`, 'group')),
        ],
        onAir: `from the moment ${streams.length === 1 ? 'it starts' : 'they start'}, ${hostPortWords(slowest.host, undefined)} has ${share} % less room for what it needs, and small hosts may drop packets or miss queries`,
        fix: `set \`unregistered: drop\` ${where.touch.kind === 'vlan' ? 'in' : 'on'} ${where.name}, or do not start ${streams.length === 1 ? 'that stream' : 'those streams'}`,
        touch: where.touch,
      };
    }
  },
});

interface Place {
  readonly name: string;
  readonly mark: Mark;
  readonly touch: { readonly kind: 'vlan' | 'switch'; readonly name: string };
}

/** Who says that such groups are flooded: the VLAN, else its switches. */
function placesOf({ settings, forwarding }: GroupSegment): readonly Place[] {
  const vlans = byLabel(
    settings.filter(({ management }) => management.unregistered === 'flood'),
    ({ vlan }) => vlan.name,
  );
  if (vlans.length > 0) {
    return vlans.map(({ vlan, management }) => ({
      name: `VLAN ${vlan.name}`,
      mark: mark(management, `VLAN ${vlan.name}: floods groups nobody joined`, 'unregistered'),
      touch: { kind: 'vlan', name: vlan.name },
    }));
  }
  const switches = byLabel(
    (forwarding?.segment.nodes ?? []).filter(({ unregistered }) => unregistered === 'flood'),
    ({ name }) => name,
  );
  return switches.map((one) => ({
    name: `switch ${one.name}`,
    mark: mark(one, `${one.name}: floods groups nobody joined`, 'unregistered'),
    touch: { kind: 'switch', name: one.name },
  }));
}
