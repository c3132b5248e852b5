import {
  byLabel,
  citedFor,
  clause,
  defineRule,
  FILTERING_VERSION,
  formatAddress,
  hasSourceSpecificGroup,
  legLabel,
  listNames,
  mark,
  oldVersions,
  protocolName,
  receiverLegLabel,
  segmentSubject,
  settingMark,
  verbOf,
  type Leg,
  type ReceiverLeg,
} from '../../../src/lint/rule.js';

const SOURCES = [
  clause('RFC 4604', '2.2.3'),
  clause('RFC 4607', '5.2'),
  clause('RFC 3376', '7.2.1'),
  clause('RFC 3810', '8.2.1'),
];

export default defineRule({
  id: 'igmp/version-too-old',
  summary: 'Source-specific joins are planned where the IGMP or MLD version knows no sources',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'groupVersions'],
  *check({ model }) {
    for (const { segment, ...found } of oldVersions(model.groupSegments, model.domains, model.groups)) {
      const needed = FILTERING_VERSION[segment.protocol];
      const old = byLabel(found.settings, ({ vlan }) => vlan.name);
      const [first, ...rest] = old;
      if (first === undefined) continue;
      const legs = byLabel(found.legs, legLabel);
      const receivers = byLabel(found.receivers, receiverLegLabel);
      const worse = legs.length > 0 || receivers.some(hasSourceSpecificGroup);
      const name = protocolName(segment.protocol);
      yield {
        subject: segmentSubject(segment),
        parties: [...old.map(({ vlan }) => vlan.name), ...legs.map(legLabel), ...receivers.map(receiverLegLabel)],
        severity: worse ? 'error' : 'warning',
        what: `${segment.domain.title} ${verbOf(segment.domain, 'runs', 'run')} ${name} ${first.management.version ?? ''}, which cannot ask for a source, but ${uses(legs, receivers)}`,
        at: settingMark(first, `${name} ${first.management.version ?? ''}`, 'version'),
        others: [
          ...rest.map((one) => settingMark(one, `${name} ${one.management.version ?? ''}`, 'version')),
          ...legs.map((leg) => mark(leg, `${legLabel(leg)}: source-specific`, 'group')),
          ...receivers.map((leg) =>
            mark(leg, `${receiverLegLabel(leg)}: joins by source`, leg.source === undefined ? 'join' : 'source'),
          ),
        ],
        onAir: worse
          ? 'hosts hear the old queries and ask for the bare group; routers and switches that keep to source-specific rules ignore that, so there is no picture or sound'
          : 'the source is dropped from the joins: anything else sent to the group arrives too, and a second sender breaks the picture up',
        fix: `run ${name} ${needed} in ${listNames(old.map(({ vlan }) => `VLAN ${vlan.name}`))}, on every querier and switch, or use any-source groups there`,
        touch: { kind: 'vlan', name: first.vlan.name },
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

function uses(legs: readonly Leg[], receivers: readonly ReceiverLeg[]): string {
  const sends =
    legs.length === 0
      ? []
      : [
          `${listNames(legs.map(legLabel), 3)} ${legs.length === 1 ? 'sends' : 'send'} to source-specific ${groupsOf(legs)}`,
        ];
  const joins =
    receivers.length === 0
      ? []
      : [`${listNames(receivers.map(receiverLegLabel), 3)} ${receivers.length === 1 ? 'joins' : 'join'} by source`];
  return [...sends, ...joins].join(' and ');
}

function groupsOf(legs: readonly Leg[]): string {
  const inOrder = [...new Set(legs.flatMap(({ group }) => group ?? []))].sort((a, b) => (a < b ? -1 : 1));
  const groups = inOrder.map(formatAddress);
  return `${groups.length === 1 ? 'group' : 'groups'} ${listNames(groups, 3)}`;
}
