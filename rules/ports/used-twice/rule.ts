import {
  byLabel,
  commonPractice,
  defineRule,
  linkLabel,
  listNames,
  mark,
  portLabel,
  type Interface,
  type Link,
  type Plan,
  type Port,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'ports/used-twice',
  summary: 'One switch port is meant for two plugs',
  severity: 'error',
  sources: [commonPractice('one port takes one cable')],
  needs: ['switchPorts'],
  *check({ plan }) {
    if (!anyTwice(plan)) return;
    const used = uses(plan);
    for (const [port, use] of used) {
      const interfaces = byLabel(use.interfaces, interfaceLabel);
      const links = byLabel([...new Set(use.links)], linkLabel);
      if (!(links.length > 0 && interfaces.length > 0) && !needsTwoPlugs(port, interfaces)) continue;
      const marks = [
        ...interfaces.map((one) => mark(one, interfaceLabel(one), 'port')),
        ...links.map((link) => mark(link, `link ${linkLabel(link)}`, 'ends')),
      ];
      const [first, second, ...rest] = marks;
      if (first === undefined || second === undefined) continue;
      const names = [...interfaces.map(interfaceLabel), ...links.map((link) => `link ${linkLabel(link)}`)];
      // A link stays where it is; of several hosts the first keeps its port.
      const [at, others] = links.length > 0 ? [first, [second, ...rest]] : [second, [first, ...rest]];
      const free = freePort(port, used);
      yield {
        subject: portLabel(port),
        parties: names,
        what: `port ${portLabel(port)} is planned for ${listNames(names)}`,
        at: { ...at, label: `${at.label}: plug it in elsewhere` },
        others,
        onAir: `only one of them gets plugged in: on the day ${names.length === 2 ? 'the other' : 'the others'} ${names.length === 2 ? 'goes' : 'go'} into whatever port is free, perhaps in another VLAN, or nowhere`,
        fix: `give each of them a port of its own${free === undefined ? '' : `; ${free} is free`}`,
        touch: { kind: 'switch', name: port.switch.name },
      };
    }
  },
});

interface PortUse {
  readonly interfaces: Interface[];
  readonly links: Link[];
}

/** Whether any port has two users at all. */
function anyTwice({ interfaces, links }: Plan): boolean {
  const seen = new Set<Port>();
  let uses = 0;
  for (const { port } of interfaces) {
    if (port === undefined) continue;
    seen.add(port);
    uses++;
  }
  for (const link of links) {
    for (const { port } of link.ends) {
      if (port === undefined) continue;
      seen.add(port);
      uses++;
    }
  }
  return seen.size < uses;
}

function uses(plan: Plan): ReadonlyMap<Port, PortUse> {
  const found = new Map<Port, PortUse>();
  const of = (port: Port): PortUse => {
    let use = found.get(port);
    if (use === undefined) found.set(port, (use = { interfaces: [], links: [] }));
    return use;
  };
  for (const one of plan.interfaces) if (one.port !== undefined) of(one.port).interfaces.push(one);
  for (const link of plan.links) for (const end of link.ends) if (end.port !== undefined) of(end.port).links.push(link);
  return found;
}

/** Several interfaces of one device may share a trunk, or be addresses of one socket; two MACs on an access port are two sockets. */
function needsTwoPlugs(port: Port, interfaces: readonly Interface[]): boolean {
  if (new Set(interfaces.map((one) => one.device)).size > 1) return true;
  return port.trunk === undefined && new Set(interfaces.flatMap((one) => one.mac ?? [])).size > 1;
}

function interfaceLabel(one: Interface): string {
  return `${one.device.name} ${one.name}`;
}

/** A port written in the same entry that nobody uses. */
function freePort(port: Port, used: ReadonlyMap<Port, PortUse>): string | undefined {
  const entry = port.origin.container;
  if (entry === port.switch.origin.container) return undefined;
  for (const other of port.switch.ports.values())
    if (other.origin.container === entry && !used.has(other)) return portLabel(other);
  return undefined;
}
