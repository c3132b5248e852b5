import {
  byLabel,
  clause,
  clockMark,
  defineRule,
  listNames,
  mark,
  ptpHostsIn,
  segmentSubject,
  settingWith,
  verbOf,
  whileUnqueried,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'timing/group-blocked',
  summary: 'The PTP group is pruned where nobody queries',
  severity: 'error',
  sources: [clause('RFC 4541', '2.1.2'), clause('RFC 3376', '8.4'), clause('IEEE 1588-2008', 'Annex D')],
  needs: ['clocks', 'snooping'],
  *check({ model }) {
    for (const segment of model.groupSegments) {
      const { protocol, snooping, candidates, routed, sent, taken, domain } = segment;
      if (snooping !== true || candidates.length > 0 || routed || sent.length + taken.length > 0) continue;
      if (whileUnqueried(segment).fate === 'flood') continue;
      const hosts = byLabel(
        ptpHostsIn(model, domain, protocol === 'igmp' ? 'udp-ipv4' : 'udp-ipv6'),
        ({ name }) => name,
      );
      const setting = settingWith(segment, ({ management }) => management.snooping === true);
      if (hosts.length < 2 || setting === undefined) continue;
      const group = protocol === 'igmp' ? '224.0.1.129' : 'ff0e::181';
      const names = hosts.map(({ name }) => name);
      yield {
        subject: segmentSubject(segment),
        parties: names,
        what: `${domain.title} ${verbOf(domain, 'carries', 'carry')} PTP between ${listNames(names)} and ${verbOf(domain, 'its', 'their')} switches snoop, but nobody queries: ${group} is pruned like any group`,
        at: mark(setting.management, `${setting.vlan.name} snoops without a querier`, 'snooping'),
        others: hosts.map((one) => clockMark(one, 'PTP here')),
        onAir:
          'clocks lock at switch-on and all lose their grandmaster about four minutes later, when the memberships age out; pictures and sound then drift',
        fix: `plan a querier in ${setting.vlan.name}, or turn snooping off there when it carries PTP only`,
        touch: { kind: 'vlan', name: setting.vlan.name },
      };
    }
  },
});
