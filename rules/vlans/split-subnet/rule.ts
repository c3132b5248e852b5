import { carryOnLinks, createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  clauseFromMemory,
  commonPractice,
  defineRule,
  formatPrefix,
  lackingMarks,
  linkLabel,
  mapAll,
  mark,
  noted,
  otherPlaces,
  ownerLabel,
  type Mark,
} from '../../../src/doors/rule.js';
import { lackingAt, splitSubnets, type Member } from '../../../src/doors/vlans.js';
import { words, type Facts, type Note, type Part } from './words.js';

export default defineRule<Facts, Note>({
  id: 'vlans/split-subnet',
  summary: 'Addresses of one subnet stand in parts of its VLAN that nothing joins',
  severity: 'warning',
  confidence: 'likely',
  sources: [
    clause('RFC 1122', '3.3.1.1'),
    clauseFromMemory('IEEE 802.1Q-2022', '8.6'),
    commonPractice('every link between two parts of a VLAN carries it'),
  ],
  needs: ['links', 'subnets', 'addresses', 'switchPorts'],
  brief: 'in parts that do not reach each other',
  harm: 'others',
  *check({ plan, model }) {
    for (const { vlan, parts, links } of splitSubnets(plan, model.domains, () =>
      model.outOfReach.flatMap(({ gap }) => gap ?? []),
    )) {
      const lacking = byLabel(links, linkLabel).map((link) => lackingAt(link, vlan));
      const told = mapAll(parts, (members) => partOf(members));
      const [at, ...others] = [
        ...lacking.flatMap(({ link }) => lackingMarks(link, vlan)),
        ...parts.flatMap(firstMarks),
      ];
      const [first] = lacking;
      if (at === undefined || first === undefined) continue;
      yield {
        subject: `VLAN ${vlan.name}`,
        parties: [vlan.name, ...lacking.map(({ link }) => linkLabel(link)), ...told.map(({ on }) => on.name)],
        cure: () => {
          const edits = createEditList();
          const done = carryOnLinks(
            edits,
            lacking.map(({ link }) => link),
            [vlan],
          );
          return done ? likely(edits) : peopleDecide('what the ports are set to');
        },
        facts: {
          vlan,
          subnets: [vlan.subnet, vlan.subnet6].flatMap((one) => (one === undefined ? [] : [formatPrefix(one)])),
          parts: told,
          links: lacking,
        },
        at,
        others: otherPlaces<Note>(at, others),
        touch: { kind: 'link', name: linkLabel(first.link) },
      };
    }
  },
  words,
});

/** A part is named by its switch with most members, of several the first by name. */
function partOf(members: Parameters<typeof firstMarks>[0]): Part {
  const counts = new Map<Member['on'], number>();
  for (const { on } of members) counts.set(on, (counts.get(on) ?? 0) + 1);
  const most = Math.max(...counts.values());
  const [first] = members;
  const [on = first.on] = byLabel(
    [...counts.keys()].filter((one) => counts.get(one) === most),
    ({ name }) => name,
  );
  return { on, count: members.length };
}

/** Enough to find a part by. */
function firstMarks(members: readonly [Member, ...Member[]]): readonly Mark<Note>[] {
  const [first] = byLabel(members, ({ holder }) => ownerLabel(holder));
  return [noted(mark(first.holder, ownerLabel(first.holder), 'address'), { on: first.on })];
}
