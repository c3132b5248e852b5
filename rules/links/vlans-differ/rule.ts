import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  linkDifference,
  linkEnds,
  linkLabel,
  listNames,
  mark,
  portLabel,
  type KnownEnd,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/vlans-differ',
  summary: 'The two ends of a link carry different VLANs',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '8.6'), commonPractice('both ends of a trunk carry the same VLANs')],
  needs: ['links', 'portVlans'],
  *check({ plan }) {
    for (const link of plan.links) {
      const missing = linkDifference(link)?.missing ?? [];
      const [first, ...rest] = missing;
      if (first === undefined) continue;
      const label = linkLabel(link);
      const lost = byLabel(
        [...new Set(missing.flatMap(({ vlans }) => vlans.map((vlan) => vlan.name)))],
        (name) => name,
      );
      const said = link.vlans !== undefined;
      yield {
        subject: linkEnds(link),
        parties: [...missing.map(({ end }) => portLabel(end.port)), ...lost],
        what: `on link ${label}, ${missing.map(({ end, vlans }) => `${portLabel(end.port)} does not carry ${names(vlans)}`).join(', and ')}, which ${said ? 'the link is said to carry' : 'the other end does'}`,
        at: lacking(first.end, first.vlans),
        others: [
          ...rest.map(({ end, vlans }) => lacking(end, vlans)),
          ...(said
            ? [mark(link, `link ${label}`, 'vlans')]
            : link.ends.flatMap((end) =>
                end.port === undefined || missing.some((one) => one.end.port === end.port)
                  ? []
                  : [mark(end.port, `${portLabel(end.port)}: carries ${names(first.vlans)}`, 'trunk')],
              )),
        ],
        onAir: `nothing in ${listNames(lost)} gets over this link: streams that have to are black or silent behind it from the start, whoever stays on one side sees nothing wrong`,
        fix:
          missing.map(({ end, vlans }) => `add ${names(vlans)} to ${portLabel(end.port)}`).join(', ') +
          `; or take ${lost.length === 1 ? 'it' : 'them'} off ${said ? 'the link' : 'the other end'} where ${lost.length === 1 ? 'it is' : 'they are'} not meant to pass`,
        touch: { kind: 'switch', name: first.end.switch.name },
      };
    }
  },
});

function lacking(end: KnownEnd, vlans: readonly Vlan[]): ReturnType<typeof mark> {
  return mark(
    end.port,
    `${portLabel(end.port)}: without ${names(vlans)}`,
    end.port.trunk === undefined ? 'access' : 'trunk',
  );
}

function names(vlans: readonly Vlan[]): string {
  return listNames(
    byLabel(
      vlans.map((vlan) => vlan.name),
      (name) => name,
    ),
  );
}
