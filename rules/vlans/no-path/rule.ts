import { createEditList, likely, carryOnLinks, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  hostLabel,
  lackingMarks,
  linkLabel,
  mark,
  noted,
  portLabel,
  type Domain,
  type Mark,
} from '../../../src/doors/rule.js';
import { cutWays, lackingAt, missingLinks, type Patched } from '../../../src/doors/vlans.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/no-path',
  summary: 'A VLAN does not reach from a sender to its receiver',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1Q-2022', '8.6'),
    commonPractice('every link between two parts of a VLAN carries it'),
  ],
  needs: ['links', 'receivers', 'interfaceVlans', 'switchPorts'],
  brief: 'VLAN does not get through',
  explains: ['no link'],
  harm: 'others',
  *check({ plan, model: { domains } }) {
    for (const { gap, links: way } of cutWays(plan, domains, missingLinks(plan, domains))) {
      const { vlan, parts, from, to } = gap;
      const links = way.map((link) => lackingAt(link, vlan));
      const streams = byLabel([...gap.streams], (one) => one);
      const [at, ...others] = [...way.flatMap((link) => lackingMarks(link, vlan)), ...hostMarks(gap.hosts)];
      if (at === undefined) continue;
      const [first] = way;
      yield {
        subject: `${vlan.name} between ${parts.map(partName).sort().join(' and ')}`,
        parties: [vlan.name, ...streams],
        cure: () => {
          const edits = createEditList();
          const done = carryOnLinks(
            edits,
            links.map(({ link }) => link),
            [vlan],
          );
          return done ? likely(edits, 'where a cable is to join them') : peopleDecide('what the ports are set to');
        },
        facts: { vlan, from, to, links, streams },
        at,
        others,
        touch: first === undefined ? { kind: 'vlan', name: vlan.name } : { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});

/** The hosts that miss each other. */
function hostMarks(hosts: ReadonlySet<Patched>): readonly Mark<Note>[] {
  return byLabel([...hosts], (one) => `${hostLabel(one)}, on ${portLabel(one.port)}`).map((one) =>
    noted(mark(one, hostLabel(one), 'port'), { on: one.port }),
  );
}

function partName({ switches, key }: Domain): string {
  return switches[0]?.name ?? key;
}
