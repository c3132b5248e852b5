import {
  byLabel,
  citedFor,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  legLabel,
  linkLabel,
  listNames,
  mark,
  protocolName,
  segmentSubject,
  settingMark,
  settingWith,
  type Edge,
  type Flow,
  type GroupSegment,
  type Interface,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 9166', 'leaf fast-leave'), clause('RFC 3376', '6.4.2'), clause('RFC 3810', '7.4.2')];

export default defineRule({
  id: 'igmp/fast-leave-shared-port',
  summary: 'Fast leave is on where one port serves several receivers of a stream',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'receivers', 'fastLeave', 'links', 'switchPorts'],
  *check({ model }) {
    for (const segment of model.groupSegments) {
      if (segment.snooping === false || !segment.settings.some(({ management }) => management.fastLeave === true))
        continue;
      const setting = settingWith(segment, ({ management }) => management.fastLeave === true);
      const shared = byLabel([...sharedEdges(segment)], ([edge]) => edgeLabel(edge));
      const [[firstEdge, first] = []] = shared;
      if (setting === undefined || firstEdge === undefined || first === undefined) continue;
      const links = shared.map(([edge]) => edgeLabel(edge));
      const hosts = byLabel([...first.hosts].map(hostLabel), (one) => one);
      const stream = `${legLabel(first.flow.leg)} (${formatAddress(first.flow.leg.group ?? 0)})`;
      yield {
        subject: segmentSubject(segment),
        parties: [...segment.domain.vlans.map((vlan) => vlan.name), ...links],
        what: `${protocolName(segment.protocol)} fast leave is on in ${segment.domain.title}, but ${links.length === 1 ? 'link' : 'links'} ${listNames(links)} ${links.length === 1 ? 'serves' : 'serve'} several receivers of one stream: over ${edgeLabel(firstEdge)} ${listNames(hosts, 4)} take ${stream}`,
        at: settingMark(setting, 'fast leave', 'fastLeave'),
        others: shared.flatMap(([edge]) =>
          edge.links
            .slice(0, 1)
            .map((link) => mark(link, `link ${linkLabel(link)}: several receivers behind it`, 'ends')),
        ),
        onAir: `the first of ${listNames(hosts, 4)} that leaves ${legLabel(first.flow.leg)} takes it from the ${hosts.length === 2 ? 'other' : 'others'} at once: black or silent until the next query is answered`,
        fix: `switch fast leave off in VLAN ${setting.vlan.name}, or on every port towards another switch`,
        touch: { kind: 'vlan', name: setting.vlan.name },
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

interface Shared {
  readonly flow: Flow;
  readonly hosts: ReadonlySet<Interface>;
}

/** Bundles of links that carry one stream towards several receivers, each with the first such stream by name. */
function sharedEdges(segment: GroupSegment): ReadonlyMap<Edge, Shared> {
  const found = new Map<Edge, Shared>();
  for (const flow of segment.flows) {
    const far = flow.receivers.filter((one) => one.node !== flow.from);
    if (far.length < 2) continue;
    const behind = new Map<Edge, Set<Interface>>();
    for (const [node, own] of groupBy(far, (one) => one.node)) {
      for (const { edge } of flow.forwarding.tree.path(flow.from, node) ?? []) {
        const hosts = behind.get(edge) ?? new Set<Interface>();
        behind.set(edge, hosts);
        for (const one of own) hosts.add(one.interface);
      }
    }
    for (const [edge, hosts] of behind) {
      const known = found.get(edge);
      if (hosts.size > 1 && (known === undefined || legLabel(flow.leg) < legLabel(known.flow.leg)))
        found.set(edge, { flow, hosts });
    }
  }
  return found;
}

function edgeLabel({ links }: Edge): string {
  return byLabel(links.map(linkLabel), (one) => one)[0] ?? '';
}

function hostLabel({ device, name }: Interface): string {
  return `${device.name} ${name}`;
}
