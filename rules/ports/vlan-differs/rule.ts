import { createEditList, likely, peopleDecide, type Cure, setOnPorts, usualVlanOf } from '../../../src/doors/cures.js';
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
  type Interface,
  type Model,
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
  harm: 'others',
  *check({ model }) {
    // Interfaces that the port they are on does not serve; those on one range of ports and in one VLAN together. Where the
    // address is the port's VLAN's too, `hosts/wrong-vlan` says it.
    const strangers = model.wrongVlans.strangers.filter((one) => model.wrongVlans.of(one) === undefined);
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
        cure: () => cure(model, interfaces, vlan, free),
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

/** Free ports of the VLAN; where there are none for all, the ports they are on carry it. */
function cure(model: Model, interfaces: readonly Interface[], vlan: Vlan, free: readonly Port[]): Cure {
  const edits = createEditList();
  const usual = interfaces.map((one) => usualVlanOf(model, one));
  if (
    interfaces.every(({ port }, index) => {
      const own = usual[index];
      return isOther(own, vlan) && port !== undefined && mayCarry(port, own);
    })
  ) {
    interfaces.forEach((one, index) => {
      edits.set(one, 'vlan', usual[index]?.name ?? vlan.name);
    });
    return likely(edits);
  }
  if (free.length >= interfaces.length) {
    interfaces.forEach((one, index) => {
      const port = free[index];
      if (port !== undefined) edits.set(one, 'port', portLabel(port));
    });
    return likely(edits);
  }
  const ports = interfaces.flatMap(({ port }) => port ?? []);
  const [first] = ports;
  if (first === undefined) return peopleDecide('where they are to be plugged');
  const { trunk, switch: owner } = first;
  const others = model.plan.interfaces.some(
    ({ port, vlan: its }) => port !== undefined && ports.includes(port) && its !== vlan,
  );
  const known = [...owner.ports.values()].some((port) => port.trunk !== 'all' && mayCarry(port, vlan));
  if (others || !known) return peopleDecide('where they are to be plugged');
  const change =
    trunk === undefined || trunk === 'all'
      ? { access: vlan.name }
      : { trunk: [...trunk.map(({ name }) => name), vlan.name] };
  return setOnPorts(edits, ports, change) ? likely(edits) : peopleDecide('what the port is set to');
}

function isOther(usual: Vlan | undefined, vlan: Vlan): usual is Vlan {
  return usual !== undefined && usual !== vlan;
}
