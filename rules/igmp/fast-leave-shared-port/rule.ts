import { createEditList, certainly } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  clauseFromMemory,
  defineRule,
  formatAddress,
  hostLabel,
  isNonEmpty,
  legLabel,
  linkLabel,
  mark,
  noted,
  segmentSubject,
  settingWith,
} from '../../../src/doors/rule.js';
import { citedFor, settingMark, sharedEdges } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const SOURCES = [
  clause('RFC 9166', 'leaf fast-leave'),
  clause('RFC 3376', '6.4.2'),
  clauseFromMemory('RFC 3810', '7.4.2'),
];

export default defineRule<Facts, Note>({
  id: 'igmp/fast-leave-shared-port',
  summary: 'Fast leave is on where one port serves several receivers of a stream',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'receivers', 'fastLeave', 'links', 'switchPorts'],
  brief: 'fast leave on a shared port',
  harm: 'later',
  *check({ model }) {
    for (const segment of model.groupSegments) {
      const { domain, protocol, settings } = segment;
      if (segment.snooping === false || !settings.some(({ management }) => management.fastLeave === true)) continue;
      const setting = settingWith(segment, ({ management }) => management.fastLeave === true);
      const shared = sharedEdges(segment, legLabel);
      if (setting === undefined || !isNonEmpty(shared)) continue;
      const links = shared.map(({ link }) => link);
      const [{ flow, hosts }] = shared;
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map(({ name }) => name), ...links.map(linkLabel)],
        cure: () => {
          const edits = createEditList();
          for (const { management } of settings)
            if (management.fastLeave === true) edits.set(management, 'fastLeave', false);
          return certainly(edits);
        },
        facts: {
          protocol,
          where: domain.title,
          vlan: setting.vlan,
          links,
          leg: flow.leg,
          group: formatAddress(flow.leg.group ?? 0),
          hosts: byLabel([...hosts], hostLabel),
        },
        at: noted(settingMark(setting, 'fastLeave'), 'fastLeave'),
        others: shared.flatMap(({ edge }) =>
          edge.links.slice(0, 1).map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'ends'), 'severalBehind')),
        ),
        touch: { kind: 'vlan', name: setting.vlan.name },
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
  words,
});
