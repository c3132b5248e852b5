import { carryOnLinks, createEditList, likely, peopleDecide, setClocks } from '../../../src/doors/cures.js';
import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  linkDifference,
  linkLabel,
  mapAll,
  mark,
  mayCarry,
  noted,
  portLabel,
  type Link,
  type Mark,
  type Model,
  type Vlan,
} from '../../../src/doors/rule.js';
import {
  type Clock,
  clockMark,
  clocksByName,
  clockSubject,
  clockTouch,
  isEndDevice,
  mayLead,
  missingLinks,
  outOfReach,
  vlanGaps,
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
  *check({ plan, model }) {
    const { domains, timing } = model;
    const found = outOfReach(timing);
    if (found.length === 0) return;
    const missing = missingLinks(plan, domains);
    const cutForStreams = new Set(vlanGaps(plan, domains).map(({ vlan }) => vlan));
    for (const { clocks, leading, meant, ends } of found) {
      // A VLAN that keeps streams from their receivers too is the cause, and `vlans/no-path` reports it.
      if (ends !== undefined && cutForStreams.has(ends.vlan)) continue;
      const links = ends === undefined ? [] : (missing(ends.vlan, ends.here.switch, ends.there.switch) ?? []);
      // Ends that disagree are the cause, and the rules on links report them.
      if (links.some((link) => linkDifference(link) !== undefined)) continue;
      const [leader] = leading;
      const vlan = links.length === 0 ? undefined : ends?.vlan;
      const joined = vlan === undefined ? [] : joinedBy(links, vlan, domains, timing.clocks);
      // Joined, end devices are to follow, and none to take over when the grandmasters are lost.
      const couldLead = clocksByName(
        joined.filter(
          (one) => one.domain === leader.domain && one.rig === leader.rig && isEndDevice(one) && mayLead(one),
        ),
      );
      const own = mapAll(leading, (one) => clockMark(one));
      const [first] = links;
      const [at = clockMark(leader), ...others] = [
        ...(vlan === undefined ? [] : links.flatMap((one) => linkMarks(one, vlan))),
        ...own,
      ];
      yield {
        subject: clockSubject(leader),
        parties: [...clocks, ...meant].map(({ name }) => name),
        cure: () => {
          const edits = createEditList();
          const done = vlan !== undefined && carryOnLinks(edits, links, [vlan]);
          setClocks(model, edits, couldLead, { slaveOnly: true });
          return done ? likely(edits) : peopleDecide('how the network of the grandmasters gets to these clocks');
        },
        facts: {
          domain: leader.domain,
          leader: leader.name,
          clocks: clocks.map(({ name }) => name),
          couldLead: couldLead.map(({ name }) => name),
          meant: mapAll(meant, ({ name }) => name),
          gap: vlan && { vlan, links },
        },
        at,
        others: [...others, ...meant.map((one) => noted(clockMark(one), 'meant'))],
        touch:
          vlan === undefined || first === undefined ? clockTouch(leader) : { kind: 'link', name: linkLabel(first) },
      };
    }
  },
  words,
});

/** The ends of a link to change, or the link itself. */
function linkMarks(link: Link, vlan: Vlan): readonly Mark<Note>[] {
  const ports = link.ends.flatMap(({ port }) => (port === undefined || mayCarry(port, vlan) ? [] : [port]));
  if (ports.length === 0) return [noted(mark(link, `link ${linkLabel(link)}`, 'vlans'), 'without')];
  return ports.map((port) =>
    noted(mark(port, portLabel(port), port.trunk === undefined ? 'access' : 'trunk'), 'without'),
  );
}

/** Clocks of all the parts of a VLAN that meet once links carry it. */
function joinedBy(
  links: readonly Link[],
  vlan: Vlan,
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
