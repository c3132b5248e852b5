import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupsOf,
  legLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
  segmentSubject,
} from '../../../src/doors/rule.js';
import { citedFor, hasSourceSpecificGroup, oldVersions, settingMark } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const SOURCES = [
  clause('RFC 4604', '2.2.3'),
  clause('RFC 4607', '5.2'),
  clause('RFC 3376', '7.2.1'),
  clause('RFC 3810', '8.2.1'),
];

export default defineRule<Facts, Note>({
  id: 'igmp/version-too-old',
  summary: 'Source-specific joins are planned where the IGMP or MLD version knows no sources',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'groupVersions'],
  explains: ['refused join'],
  *check({ model }) {
    for (const { segment, ...found } of oldVersions(model.groupSegments, model.domains, model.groups)) {
      const { domain, protocol } = segment;
      const old = byLabel(found.settings, ({ vlan }) => vlan.name);
      const [at, ...rest] = mapAll(old, (one) => noted(settingMark(one, 'version'), { version: one.version }));
      const legs = byLabel(found.legs, legLabel);
      const receivers = byLabel(found.receivers, receiverLegLabel);
      const refused = legs.length > 0 || receivers.some(hasSourceSpecificGroup);
      yield {
        subject: segmentSubject(segment),
        parties: [...old.map(({ vlan }) => vlan.name), ...legs.map(legLabel), ...receivers.map(receiverLegLabel)],
        severity: refused ? 'error' : 'warning',
        facts: {
          protocol,
          where: domain.title,
          vlans: domain.vlans,
          old: mapAll(old, ({ vlan, version }) => ({ vlan, version })),
          legs,
          groups: groupsOf(legs).map(formatAddress),
          receivers,
          refused,
        },
        at,
        others: [
          ...rest,
          ...legs.map((leg) => noted(mark(leg, legLabel(leg), 'group'), 'sends')),
          ...receivers.map((leg) =>
            noted(mark(leg, receiverLegLabel(leg), leg.source === undefined ? 'join' : 'source'), 'joins'),
          ),
        ],
        touch: { kind: 'vlan', name: old[0].vlan.name },
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
  words,
});
