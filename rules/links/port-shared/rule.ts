import { createEditList, likely, peopleDecide, setOnPorts, writtenAt, setLinkEnd } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  isNonEmpty,
  lastOf,
  linkLabel,
  mark,
  noted,
  portLabel,
  type Link,
  type Mark,
  type Port,
} from '../../../src/doors/rule.js';
import { kept } from '../../../src/doors/links.js';
import { linkWithEnds, words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/port-shared',
  summary: 'One switch port is an end of two links',
  severity: 'error',
  sources: [commonPractice('one port takes one cable')],
  needs: ['links'],
  brief: 'one port for two links',
  *check({ plan, model }) {
    const shared = [...linksByPort(plan.links)].filter(([, set]) => set.size > 1);
    for (const [port, set] of byLabel(shared, ([one]) => portLabel(one))) {
      const links = byLabel([...set], linkWithEnds);
      if (!isNonEmpty(links)) continue;
      const last = lastOf(links);
      const free = model.proposals.port(
        port.switch,
        (other) => other.rateBps === port.rateBps && other.access === undefined,
      );
      yield {
        subject: portLabel(port),
        parties: links.map(linkWithEnds),
        cure: () => {
          const edits = createEditList();
          if (free === undefined || links.length > 2) return peopleDecide('which ports the cables go to');
          setLinkEnd(edits, last, last.ends[0].port === port ? 0 : 1, free);
          const same = ['access', 'trunk', 'native', 'mtu'].flatMap((key) => {
            const [value, had] = [writtenAt(port, key), writtenAt(free, key)];
            return JSON.stringify(value) === JSON.stringify(had) ? [] : [[key, value] as const];
          });
          if (same.length > 0 && !setOnPorts(edits, [free], Object.fromEntries(same)))
            return peopleDecide('what the free port is set to');
          return likely(edits);
        },
        facts: { port, links, free },
        at: noted(endMark(last, port), 'move'),
        others: links.slice(0, -1).map((link) => endMark(link, port)),
        touch: { kind: 'link', name: linkLabel(last) },
      };
    }
  },
  words,
});

function linksByPort(links: readonly Link[]): ReadonlyMap<Port, ReadonlySet<Link>> {
  const found = new Map<Port, Set<Link>>();
  for (const link of links)
    for (const { port } of link.ends) if (port !== undefined) kept(found, port, () => new Set<Link>()).add(link);
  return found;
}

/** The end of a link that is at the port. */
function endMark(link: Link, port: Port): Mark<never> {
  return mark(link, `link ${linkWithEnds(link)}`, 'ends', link.ends[0].port === port ? 0 : 1);
}
