import { createEditList, likely, carryOnLinks, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  isNonEmpty,
  linkLabel,
  mark,
  noted,
} from '../../../src/doors/rule.js';
import { blockedWays } from '../../../src/doors/vlans.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/blocked-way',
  summary: 'The spanning tree blocks the only way of a VLAN',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1Q-2022', '13'),
    clauseFromMemory('IEEE 802.1D-2004', '17'),
    commonPractice('every link of a loop carries every VLAN of it'),
  ],
  needs: ['links', 'switchPorts', 'portVlans'],
  brief: 'only way blocked',
  explains: ['blocked link', 'no querier'],
  harm: 'others',
  *check({ model }) {
    for (const way of byLabel(blockedWays(model.network), ({ domain }) => domain.key)) {
      const { domain, after, between, blocked, root, lacking, doubts } = way;
      const vlans = byLabel(domain.vlans, ({ name }) => name);
      const [vlan] = vlans;
      if (vlan === undefined) continue;
      const links = byLabel([...lacking], linkLabel);
      const marks = [
        ...links.map((link) => noted(mark(link, `link ${linkLabel(link)}`, 'vlans'), { kind: 'lacks' as const, vlan })),
        ...blocked.map(({ link }) => noted(mark(link, `link ${linkLabel(link)}`), { kind: 'blocked' as const })),
        ...after.map((link) => noted(mark(link, `link ${linkLabel(link)}`), { kind: 'lost' as const })),
      ];
      const [at, ...others] = marks;
      if (at === undefined) continue;
      yield {
        subject: `VLAN ${domain.key}`,
        parties: [...vlans.map(({ name }) => name), ...blocked.map(({ link }) => linkLabel(link))],
        severity: isNonEmpty(doubts) ? 'warning' : 'error',
        confidence: isNonEmpty(doubts) ? 'assumed' : 'certain',
        cure: () => {
          const edits = createEditList();
          const done = carryOnLinks(edits, links, vlans);
          return done ? likely(edits) : peopleDecide('what the ports are set to');
        },
        facts: { vlan, between, blocked, root, lacking: links, after: byLabel([...after], linkLabel), doubts },
        at,
        others,
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
