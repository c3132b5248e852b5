import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  entityLabel,
  groupBy,
  mapAll,
  mark,
  mayCarry,
  noted,
  portLabel,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';
import { words, type Carries, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'ports/vlan-differs',
  summary: 'An interface is plugged into a port of another VLAN',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1Q-2022', '6.9'),
    commonPractice('a host is in the VLAN of the port it is plugged into'),
  ],
  needs: ['switchPorts', 'interfaceVlans', 'portVlans'],
  brief: 'port in another VLAN',
  explains: ['port outside VLAN'],
  *check({ plan, model }) {
    // Interfaces that the port they are on does not serve; those on one range of ports and in one VLAN together.
    const strangers = plan.interfaces.filter(
      ({ port, vlan }) => port !== undefined && vlan !== undefined && !mayCarry(port, vlan),
    );
    const alike = [...groupBy(strangers, ({ port }) => port?.origin.container).values()].flatMap((onRange) =>
      [...groupBy(onRange, ({ vlan }) => vlan)].map(([vlan, list]) => {
        const interfaces = byLabel(list, entityLabel);
        const [first] = interfaces;
        const on = first.port === undefined ? '' : portLabel(first.port);
        return { vlan, interfaces, port: list[0].port, subject: `${entityLabel(first)} on ${on}` };
      }),
    );
    for (const { port, vlan, interfaces, subject } of byLabel(alike, (one) => one.subject)) {
      if (port === undefined) continue;
      const ports = byLabel(
        [...new Set(interfaces.flatMap((one) => (one.port === undefined ? [] : portLabel(one.port))))],
        (name) => name,
      );
      const free =
        interfaces.length > MOST_MOVES
          ? []
          : interfaces.flatMap(
              (via) =>
                model.proposals.port(port.switch, (other) => isFor(other, vlan, via.rateBps ?? port.rateBps)) ?? [],
            );
      const carries = carriedBy(port);
      const [at, ...rest] = mapAll(interfaces, (one) => noted(mark(one, entityLabel(one), 'port'), { vlan }));
      yield {
        subject,
        parties: [...interfaces.map(entityLabel), ...ports, vlan.name],
        facts: {
          interfaces,
          vlan,
          ports,
          carries,
          trunk: port.trunk !== undefined,
          free: free.length < interfaces.length ? [] : free,
        },
        at,
        others: [...rest, noted(mark(port, portLabel(port), keyOf(port)), { ports, carries })],
        touch: { kind: 'switch', name: port.switch.name },
      };
    }
  },
  words,
});

/** Past this many interfaces a list of free ports helps nobody. */
const MOST_MOVES = 4;

function isFor(port: Port, vlan: Vlan, rateBps: number | undefined): boolean {
  return port.access === vlan && (rateBps === undefined || port.rateBps === undefined || port.rateBps >= rateBps);
}

function keyOf({ access, trunk }: Port): string {
  return access !== undefined ? 'access' : trunk !== undefined ? 'trunk' : 'native';
}

function carriedBy({ access, trunk, native }: Port): Carries {
  if (access !== undefined && trunk === undefined) return { access };
  const tagged = trunk === undefined || trunk === 'all' ? [] : trunk;
  const names = [...tagged, access, native].flatMap((vlan) => vlan?.name ?? []);
  return { trunkOf: byLabel([...new Set(names)], (name) => name) };
}
