import {
  byLabel,
  commonPractice,
  defineRule,
  linkEnds,
  linkLabel,
  listNames,
  mark,
  portLabel,
  type Link,
  type Port,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/port-shared',
  summary: 'One switch port is an end of two links',
  severity: 'error',
  sources: [commonPractice('one port takes one cable')],
  needs: ['links'],
  *check({ plan, model }) {
    const shared = [...linksByPort(plan.links)].filter(([, set]) => set.size > 1);
    for (const [port, set] of byLabel(shared, ([one]) => portLabel(one))) {
      const links = byLabel([...set], label);
      const names = links.map(label);
      const several = links.length > 2;
      const [last, ...rest] = [...links].reverse();
      if (last === undefined) continue;
      const free = model.proposals.port(
        port.switch,
        (other) => other.rateBps === port.rateBps && other.access === undefined,
      );
      yield {
        subject: portLabel(port),
        parties: names,
        what: `port ${portLabel(port)} is an end of ${links.length} links: ${listNames(names)}`,
        at: mark(last, `link ${label(last)}: give it another port`, 'ends', endOf(last, port)),
        others: rest.reverse().map((link) => mark(link, `link ${label(link)}`, 'ends', endOf(link, port))),
        onAir: `only one of them gets plugged in: what is behind the ${several ? 'others' : 'other'} is cut off, or hangs on a port nobody planned`,
        fix: `give ${several ? 'each of the links' : `link ${label(last)}`} a port of its own on ${port.switch.name}${free === undefined ? '' : `; ${portLabel(free)} is free`}`,
        touch: { kind: 'link', name: linkLabel(last) },
      };
    }
  },
});

/** Two links may share both ends, so a name alone does not tell them apart. */
function label(link: Link): string {
  return link.name === undefined ? linkEnds(link) : `${link.name} (${linkEnds(link)})`;
}

function linksByPort(links: readonly Link[]): ReadonlyMap<Port, ReadonlySet<Link>> {
  const found = new Map<Port, Set<Link>>();
  for (const link of links) {
    for (const { port } of link.ends) {
      if (port === undefined) continue;
      const set = found.get(port);
      if (set === undefined) found.set(port, new Set([link]));
      else set.add(link);
    }
  }
  return found;
}

function endOf(link: Link, port: Port): number {
  return link.ends[0].port === port ? 0 : 1;
}
