import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  createFillsPorts,
  defineRule,
  legLabel,
  mark,
  noted,
  PORT_SHARE,
  segmentSubject,
  type Mark,
  type Touch,
} from '../../../src/doors/rule.js';
import { floodedBystanders, settingMark, type GroupSegment } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/unregistered-flood',
  summary: 'Heavy streams are flooded to ports that did not ask for them',
  severity: 'warning',
  sources: [clause('RFC 4541', '2.1.1'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'receivers', 'unregistered', 'switchPorts'],
  brief: 'heavy streams flooded',
  thresholds: {
    percent: { default: 10, what: 'share of the slowest flooded port that unwanted streams may take, in percent' },
  },
  *check({ model, threshold, thresholdElsewhere }) {
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    for (const segment of model.groupSegments) {
      const { domain, forwarding } = segment;
      if (forwarding?.[segment.protocol].conduct.unregistered !== 'flood') continue; // flows are costly to ask for
      const [first, ...rest] = placesOf(segment);
      if (first === undefined || fillsPorts(forwarding)) continue;
      const flooded = floodedBystanders(
        forwarding,
        segment.unchosen,
        'unregistered',
        (leg) => model.rates.onWire(leg)?.onPort,
      );
      const { slowest } = flooded;
      if (slowest?.rateBps === undefined) continue;
      if (slowest.floodBps * 100 <= slowest.rateBps * threshold('percent', slowest.host.device.rig)) continue;
      const taken = new Set(segment.unchosen.flatMap(({ leg, receivers }) => (receivers.length > 0 ? [leg] : [])));
      const legs = byLabel(flooded.legs, legLabel);
      const unheard = legs.filter((leg) => taken.has(leg));
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...legs.map(legLabel)],
        cure: () => {
          const edits = createEditList();
          for (const one of [first, ...rest]) edits.put(one.mark.place, 'drop');
          return likely(edits);
        },
        facts: {
          where: domain.title,
          vlans: domain.vlans,
          by: first.by,
          legs,
          unheard,
          floodBps: slowest.floodBps,
          slowest: slowest.host,
          rateBps: slowest.rateBps,
        },
        at: noted(first.mark, 'floods'),
        others: [
          ...rest.map((one) => noted(one.mark, 'floods')),
          ...legs.map((leg) => noted(mark(leg, legLabel(leg), 'group'), taken.has(leg) ? 'unheard' : 'untaken')),
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
