import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  listNames,
  mark,
  mayCarry,
  portLabel,
  withId,
  type Interface,
  type Port,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'ports/vlan-differs',
  summary: 'An interface is plugged into a port of another VLAN',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '6.9'), commonPractice('a host is in the VLAN of the port it is plugged into')],
  needs: ['switchPorts', 'interfaceVlans', 'portVlans'],
  *check({ plan, model }) {
    for (const { port, vlan, interfaces } of byLabel([...strangers(plan.interfaces)], subjectOf)) {
      const sorted = byLabel(interfaces, interfaceLabel);
      const [first, ...rest] = sorted;
      if (first === undefined) continue;
      const names = sorted.map(interfaceLabel);
      const ports = byLabel(
        [...new Set(sorted.map((one) => (one.port === undefined ? '' : portLabel(one.port))))],
        (name) => name,
      );
      const one = ports.length === 1;
      const free =
        sorted.length > 4
          ? []
          : sorted.flatMap(
              (via) =>
                model.proposals.port(port.switch, (other) => isFor(other, vlan, via.rateBps ?? port.rateBps)) ?? [],
            );
      yield {
        subject: subjectOf({ port, vlan, interfaces }),
        parties: [...names, ...ports, vlan.name],
        what: `${listNames(names)} ${names.length === 1 ? 'is' : 'are'} planned in VLAN ${withId(vlan)}, but ${one ? 'port' : 'ports'} ${listNames(ports)} ${one ? 'is' : 'are'} ${carries(port)}`,
        at: mark(first, `${interfaceLabel(first)}, in VLAN ${vlan.name}`, 'port'),
        others: [
          ...rest.map((via) => mark(via, `${interfaceLabel(via)}, in VLAN ${vlan.name}`, 'port')),
          mark(
            port,
            `${one ? portLabel(port) : `ports ${listNames(ports)}`}: ${carries(port)}`,
            port.access !== undefined ? 'access' : port.trunk !== undefined ? 'trunk' : 'native',
          ),
        ],
        onAir: `${listNames(names)} ${names.length === 1 ? 'talks' : 'talk'} to nobody in ${vlan.name}: nothing sent arrives there and nothing from there is heard, or it lands in the other VLAN`,
        fix: `plug ${names.length === 1 ? 'it' : 'them'} into a port of ${vlan.name}${free.length < sorted.length || free.length === 0 ? '' : `, such as ${listNames(free.map(portLabel))}, free in this plan`}, or ${port.trunk === undefined ? `make ${listNames(ports)} ${one ? 'an access port' : 'access ports'} of it` : `add it to the trunk on ${listNames(ports)}`}`,
        touch: { kind: 'switch', name: port.switch.name },
      };
    }
  },
});

function subjectOf({ interfaces }: Strangers): string {
  const [first] = byLabel(interfaces, interfaceLabel);
  return first === undefined
    ? ''
    : `${interfaceLabel(first)} on ${first.port === undefined ? '' : portLabel(first.port)}`;
}

function isFor(port: Port, vlan: Vlan, rateBps: number | undefined): boolean {
  return port.access === vlan && (rateBps === undefined || port.rateBps === undefined || port.rateBps >= rateBps);
}

interface Strangers {
  readonly port: Port;
  readonly vlan: Vlan;
  readonly interfaces: Interface[];
}

/** Interfaces that the port they are on does not serve; those on one range of ports and in one VLAN together. */
function strangers(interfaces: readonly Interface[]): Iterable<Strangers> {
  const found = new Map<object, Map<Vlan, Strangers>>();
  for (const one of interfaces) {
    const { port, vlan } = one;
    if (port === undefined || vlan === undefined || mayCarry(port, vlan)) continue;
    const entry = port.origin.container;
    const byVlan = found.get(entry) ?? new Map<Vlan, Strangers>();
    found.set(entry, byVlan);
    const group = byVlan.get(vlan) ?? { port, vlan, interfaces: [] };
    byVlan.set(vlan, group);
    group.interfaces.push(one);
  }
  return [...found.values()].flatMap((byVlan) => [...byVlan.values()]);
}

function interfaceLabel(one: Interface): string {
  return `${one.device.name} ${one.name}`;
}

function carries(port: Port): string {
  const { access, trunk, native } = port;
  if (access !== undefined && trunk === undefined) return `in VLAN ${access.name}`;
  const tagged = trunk === undefined || trunk === 'all' ? [] : trunk.map((vlan) => vlan.name);
  const names = [
    ...new Set([
      ...tagged,
      ...(access === undefined ? [] : [access.name]),
      ...(native === undefined ? [] : [native.name]),
    ]),
  ];
  return names.length === 0 ? 'without any VLAN' : `a trunk of ${listNames(byLabel(names, (name) => name))}`;
}
