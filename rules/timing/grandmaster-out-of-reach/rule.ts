import { carryOnLinks, createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  lackingMarks,
  linkLabel,
  mapAll,
  noted,
  type Model,
} from '../../../src/doors/rule.js';
import {
  type Clock,
  clockMark,
  clocksByName,
  clockSubject,
  clockTouch,
  type ForgottenVlan,
  isEndDevice,
  mayLead,
} from '../../../src/doors/timing.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'timing/grandmaster-out-of-reach',
  summary: 'Clocks lead among themselves where no grandmaster of their domain reaches them',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 1588-2008', '9.3.3'),
    commonPractice('a trunk between clocks carries the VLAN in which they speak PTP'),
  ],
  needs: ['clocks', 'grandmasters'],
  brief: 'no grandmaster in reach',
  harm: 'spoils',
  *check({ model }) {
    const { domains, timing } = model;
    for (const { clocks, leading, meant, gap } of model.outOfReach) {
      // The VLAN is the cause then, and `vlans/no-path` or the rules on links report it.
      if (gap?.isKnown === true) continue;
      const [leader] = leading;
      const joined = gap === undefined ? [] : joinedBy(gap, domains, timing.clocks);
      // Joined, end devices are to follow, and none to take over when the grandmasters are lost.
      const couldLead = clocksByName(
        joined.filter(
          (one) => one.domain === leader.domain && one.rig === leader.rig && isEndDevice(one) && mayLead(one),
        ),
      );
      const lacking = gap === undefined ? [] : gap.links.flatMap((one) => lackingMarks(one, gap.vlan));
      const [at = clockMark(leader), ...others] = [
        ...lacking.map((one) => ({ ...one, note: 'without' as const })),
        ...leading.map((one) => clockMark(one)),
      ];
      yield {
        subject: clockSubject(leader),
        // Switches there as well, which may be on a time of their own beside the leader's.
        parties: [...new Set([...clocks, ...(timing.islandOf(leader)?.clocks ?? []), ...meant])].map(
          ({ name }) => name,
        ),
        cure: () => {
          const edits = createEditList();
          const done = gap !== undefined && carryOnLinks(edits, gap.links, [gap.vlan]);
          setClocks(model, edits, couldLead, { slaveOnly: true });
          return done ? likely(edits) : peopleDecide('how the network of the grandmasters gets to these clocks');
        },
        facts: {
          domain: leader.domain,
          leader: leader.name,
          clocks: clocks.map(({ name }) => name),
          couldLead: couldLead.map(({ name }) => name),
          meant: mapAll(meant, ({ name }) => name),
          gap,
        },
        at,
        others: [...others, ...meant.map((one) => noted(clockMark(one), 'meant'))],
        touch: gap === undefined ? clockTouch(leader) : { kind: 'link', name: linkLabel(gap.links[0]) },
      };
    }
  },
  words,
});

/** Clocks of all the parts of a VLAN that meet once links carry it. */
function joinedBy(
  { vlan, links }: ForgottenVlan,
  domains: Model['domains'],
  clocks: readonly Clock[],
): readonly Clock[] {
  const parts = new Set(
    links.flatMap(({ ends }) => ends.flatMap((end) => (end.switch && domains.onSwitch(end.switch, vlan)) ?? [])),
  );
  return clocks.filter(({ ports }) =>
    ports.some(({ attachment: { interface: one } }) => one !== undefined && parts.has(domains.switched(one))),
  );
}
