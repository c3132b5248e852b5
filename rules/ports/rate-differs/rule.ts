import {
  byLabel,
  commonPractice,
  defineRule,
  formatRate,
  listNames,
  mark,
  portLabel,
  type Interface,
  type Port,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'ports/rate-differs',
  summary: 'An interface and its switch port have different rates',
  severity: 'warning',
  sources: [commonPractice('both ends of a cable run at one rate')],
  needs: ['switchPorts'],
  *check({ plan }) {
    for (const { port, rateBps, interfaces } of mismatches(plan.interfaces)) {
      const sorted = byLabel(interfaces, interfaceLabel);
      const [first, ...rest] = sorted;
      if (first === undefined || port.rateBps === undefined) continue;
      const names = sorted.map(interfaceLabel);
      const ports = byLabel(
        sorted.map((one) => (one.port === undefined ? '' : portLabel(one.port))),
        (name) => name,
      );
      const mine = formatRate(rateBps);
      const its = formatRate(port.rateBps);
      const several = names.length > 1;
      yield {
        subject: `${interfaceLabel(first)} on ${first.port === undefined ? '' : portLabel(first.port)}`,
        parties: [...names, ...ports],
        what: `${listNames(names)} ${several ? 'run' : 'runs'} at ${mine}, ${several ? 'ports' : 'port'} ${listNames(ports)} at ${its}`,
        at: mark(first, `${interfaceLabel(first)}: ${mine}`, 'rate'),
        others: [
          ...rest.map((one) => mark(one, `${interfaceLabel(one)}: ${mine}`, 'rate')),
          mark(port, `${listNames(ports)}: ${its}`, 'rate'),
        ],
        onAir:
          rateBps < port.rateBps
            ? 'no link light where the port or its optic knows one rate only; else the port falls back to the lower rate, if it may'
            : 'no link light where the interface or its optic knows one rate only; else it falls back to the lower rate and drops what does not fit',
        fix: `set the ${several ? 'ports' : 'port'} to ${mine} or use ports of that rate, or write down the rate ${several ? 'they really run' : 'it really runs'} at`,
        touch: { kind: 'device', name: first.device.name },
      };
    }
  },
});

interface Mismatch {
  readonly port: Port;
  readonly rateBps: number;
  readonly interfaces: Interface[];
}

/** Interfaces of one rate on one range of ports together. */
function mismatches(interfaces: readonly Interface[]): Iterable<Mismatch> {
  const found = new Map<object, Map<number, Mismatch>>();
  for (const one of interfaces) {
    const { port, rateBps } = one;
    if (port?.rateBps === undefined || rateBps === undefined || rateBps === port.rateBps) continue;
    const entry = port.origin.container;
    const byRate = found.get(entry) ?? new Map<number, Mismatch>();
    found.set(entry, byRate);
    const group = byRate.get(rateBps) ?? { port, rateBps, interfaces: [] };
    byRate.set(rateBps, group);
    group.interfaces.push(one);
  }
  return [...found.values()].flatMap((byRate) => [...byRate.values()]);
}

function interfaceLabel(one: Interface): string {
  return `${one.device.name} ${one.name}`;
}
