import { createEditList, likely, peopleDecide, addQueriers } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  createFillsPorts,
  defineRule,
  noted,
  PORT_SHARE,
  segmentSubject,
  settingWith,
  querierPlaces,
} from '../../../src/doors/rule.js';
import { floodOfAll, hostsIn, settingMark, type VlanSetting } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'igmp/snooping-off',
  summary: 'Snooping is off in a VLAN that carries streams, so every stream goes to every port',
  severity: 'warning',
  sources: [clause('RFC 4541', '1'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'snooping'],
  brief: 'snooping off',
  *check({ plan, model, thresholdElsewhere }) {
    const fillsPorts = createFillsPorts(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    const { groupSegments, reception, domains, rates } = model;
    for (const segment of groupSegments) {
      const { domain, protocol, settings, candidates, routed } = segment;
      if (segment.snooping !== false || !segment.carries) continue;
      const setting = settingWith(segment, isOff);
      if (setting === undefined) continue;
      const hosts = hostsIn(segment, plan, domains);
      if (fillsPorts(segment.forwarding)) continue;
      const flood = floodOfAll(segment, hosts, reception.heard, (leg) => rates.onWire(leg)?.onPort);
      if (flood.hosts.length === 0) continue;
      const off = settings.filter(isOff);
      yield {
        subject: segmentSubject(segment),
        parties: domain.vlans.map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          for (const { management } of off) edits.set(management, 'snooping', true);
          const places = candidates.length > 0 || routed ? [] : querierPlaces(segment, model.addressing);
          const done =
            candidates.length > 0 ||
            routed ||
            (places.length > 0 && addQueriers(model, edits, setting.vlan, protocol, places));
          return done ? likely(edits) : peopleDecide('which switch is to query, and from which address');
        },
        facts: {
          protocol,
          where: domain.title,
          vlans: domain.vlans,
          off: byLabel(
            off.map(({ vlan }) => vlan),
            ({ name }) => name,
          ),
          streams: flood.streams.length,
          unrated: flood.unrated,
          unwantedBps: Math.max(...flood.hosts.map(({ floodBps }) => floodBps)),
          slowest: flood.slowest,
          queriers: candidates.flatMap(({ on }) => on?.name ?? []),
          routed,
        },
        at: noted(settingMark(setting, 'snooping'), 'off'),
        others: off.filter((one) => one !== setting).map((one) => noted(settingMark(one, 'snooping'), 'off')),
        touch: { kind: 'vlan', name: setting.vlan.name },
      };
    }
  },
  words,
});

function isOff({ management }: VlanSetting): boolean {
  return management.snooping === false;
}
