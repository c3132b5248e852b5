import {
  byLabel,
  clause,
  defineRule,
  legLabel,
  mark,
  noted,
  segmentSubject,
  type Mark,
  type Touch,
} from '../../../src/doors/rule.js';
import {
  createFillsPorts,
  PORT_SHARE,
  floodOver,
  hostsIn,
  settingMark,
  type GroupSegment,
} from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/unregistered-flood',
  summary: 'Heavy streams nobody takes are flooded to every port',
  severity: 'warning',
  sources: [clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'receivers', 'unregistered', 'switchPorts'],
  thresholds: {
    percent: { default: 10, what: 'share of the slowest flooded port that unwanted streams may take, in percent' },
  },
  *check({ plan, model, threshold, thresholdElsewhere }) {
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    for (const segment of model.groupSegments) {
      const { domain, forwarding } = segment;
      if (forwarding?.conduct.unregistered !== 'flood') continue; // flows are costly to ask for
      const streams = segment.flows.filter(({ flood }) => flood === 'unregistered').map(({ leg }) => leg);
      const [first, ...rest] = placesOf(segment);
      if (streams.length === 0 || first === undefined) continue;
      const hosts = hostsIn(segment, plan, model.domains);
      if (fillsPorts(segment.forwarding)) continue;
      const { slowest } = floodOver(streams, hosts, new Map(), (leg) => model.rates.onWire(leg)?.onPort);
      if (slowest?.rateBps === undefined) continue;
      if (slowest.floodBps * 100 <= slowest.rateBps * threshold('percent', slowest.host.device.rig)) continue;
      const legs = byLabel(streams, legLabel);
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...legs.map(legLabel)],
        facts: {
          where: domain.title,
          vlans: domain.vlans,
          by: first.by,
          legs,
          floodBps: slowest.floodBps,
          slowest: slowest.host,
          rateBps: slowest.rateBps,
        },
        at: noted(first.mark, 'floods'),
        others: [
          ...rest.map((one) => noted(one.mark, 'floods')),
          ...legs.map((leg) => noted(mark(leg, legLabel(leg), 'group'), 'untaken')),
        ],
        touch: first.touch,
      };
    }
  },
  words,
});

interface Place {
  readonly by: Facts['by'];
  readonly mark: Mark<never>;
  readonly touch: Touch;
}

/** Who says that such groups are flooded: the VLAN, else its switches. */
function placesOf({ settings, forwarding }: GroupSegment): readonly Place[] {
  const vlans = settings.filter(({ management }) => management.unregistered === 'flood');
  if (vlans.length > 0)
    return byLabel(vlans, ({ vlan }) => vlan.name).map((setting) => ({
      by: { vlan: setting.vlan },
      mark: settingMark(setting, 'unregistered'),
      touch: { kind: 'vlan', name: setting.vlan.name },
    }));
  const switches = (forwarding?.segment.nodes ?? []).filter(({ unregistered }) => unregistered === 'flood');
  return byLabel(switches, ({ name }) => name).map((one) => ({
    by: { switch: one },
    mark: mark(one, one.name, 'unregistered'),
    touch: { kind: 'switch', name: one.name },
  }));
}
