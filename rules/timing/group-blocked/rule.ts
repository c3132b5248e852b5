import { createEditList, likely, addQueriers } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  mark,
  noted,
  segmentSubject,
  settingWith,
  whileUnqueried,
  querierPlaces,
} from '../../../src/doors/rule.js';
import { clockMark, PTP_ADDRESSES, ptpHostsIn } from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/group-blocked',
  summary: 'The PTP group is pruned where nobody queries',
  severity: 'error',
  sources: [clause('RFC 4541', '2.1.2'), clause('RFC 3376', '8.4'), clause('IEEE 1588-2008', 'Annex D')],
  needs: ['clocks', 'snooping'],
  brief: 'PTP group pruned',
  harm: 'spoils',
  *check({ model }) {
    for (const segment of model.groupSegments) {
      const { protocol, snooping, candidates, routed, domain } = segment;
      if (snooping !== true || candidates.length > 0 || routed || segment.carries) continue;
      const { fate, assumed } = whileUnqueried(segment);
      if (fate === 'flood') continue;
      const transport = protocol === 'igmp' ? 'udp-ipv4' : 'udp-ipv6';
      const hosts = byLabel(ptpHostsIn(model, domain, transport), ({ name }) => name);
      const setting = settingWith(segment, ({ management }) => management.snooping === true);
      if (hosts.length < 2 || setting === undefined) continue;
      const names = hosts.map(({ name }) => name);
      yield {
        subject: segmentSubject(segment),
        parties: names,
        confidence: assumed.length > 0 ? 'assumed' : 'certain',
        cure: () => {
          const edits = createEditList();
          const places = querierPlaces(segment, model.addressing);
          if (places.length > 0 && addQueriers(model, edits, setting.vlan, protocol, places)) return likely(edits);
          const off = createEditList();
          off.set(setting.management, 'snooping', false);
          return likely(off);
        },
        facts: {
          where: domain.title,
          isJoined: domain.vlans.length > 1,
          hosts: names,
          group: PTP_ADDRESSES[transport].primary,
          vlan: setting.vlan.name,
        },
        at: noted(mark(setting.management, setting.vlan.name, 'snooping'), 'snoops'),
        others: hosts.map((one) => noted(clockMark(one), 'ptp')),
        touch: { kind: 'vlan', name: setting.vlan.name },
      };
    }
  },
  words,
});
