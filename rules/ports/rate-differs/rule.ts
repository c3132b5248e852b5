import { createEditList, likely, peopleDecide, setOnPorts, writtenAt, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  entityLabel,
  groupBy,
  inRig,
  mapAll,
  mark,
  noted,
  PORT_SHARE,
  portLabel,
  touchOfKind,
  type FindingDraft,
  type Interface,
  type Kind,
  type Model,
  type NonEmpty,
  type Plan,
  type Port,
} from '../../../src/doors/rule.js';
import { byLine, createLineUsers, tooSlow } from '../../../src/doors/ports.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'ports/rate-differs',
  summary: 'An interface and its switch port have different rates',
  severity: 'warning',
  sources: [commonPractice('both ends of a cable run at one rate')],
  needs: ['switchPorts'],
  brief: 'port rate differs',
  *check({ plan, model, thresholdElsewhere }) {
    const all = model.unusualInterfaces.unlikeRate.filter(isRated);
    if (all.length === 0) return;
    const slow = tooSlow(model, (rig) => thresholdElsewhere(PORT_SHARE, rig));
    const differing = all.filter((one) => !slow.has(one));
    const ofKinds = kindRates(plan, differing);
    for (const one of ofKinds) yield kindFinding(one, model);
    const said = new Set(ofKinds.flatMap(({ interfaces }) => interfaces));
    // Interfaces of one rate on one range of ports together.
    const others = differing.filter((one) => !said.has(one));
    for (const onRange of groupBy(others, ({ port }) => port?.origin.container).values()) {
      for (const [rateBps, alike] of groupBy(onRange, (one) => one.rateBps)) {
        const interfaces = byLabel(alike, entityLabel);
        const [first] = interfaces;
        const { port } = first;
        if (port?.rateBps === undefined) continue;
        const ports = portsOf(interfaces);
        const names = ports.map(portLabel);
        const [at, ...rest] = mapAll(interfaces, (one) => noted(mark(one, entityLabel(one), 'rate'), { rateBps }));
        yield {
          subject: `${entityLabel(first)} on ${portLabel(first.port ?? port)}`,
          parties: [...interfaces.map(entityLabel), ...names],
          cure: () => cure(plan, interfaces, rateBps),
          facts: { kind: undefined, interfaces, rateBps, ports, portRateBps: port.rateBps },
          at,
          others: [...rest, noted(mark(port, portLabel(port), 'rate'), { ports: names, rateBps: port.rateBps })],
          touch: { kind: 'device', name: first.device.name },
        };
      }
    }
  },
  words,
});

type Rated = Interface & { readonly rateBps: number };

function isRated(one: Interface): one is Rated {
  return one.port?.rateBps !== undefined && one.rateBps !== undefined;
}

/** One line of a kind that most of its ports contradict, all with one rate. */
interface KindRate {
  readonly kind: Kind;
  readonly interfaces: NonEmpty<Rated>;
  readonly portRateBps: number;
}

function kindRates(plan: Plan, differing: readonly Rated[]): readonly KindRate[] {
  const usersOf = createLineUsers(plan, 'rate', ({ port }) => port?.rateBps !== undefined);
  return byLine(differing, ({ device }) => device, 'rate').flatMap(({ kind, things }): readonly KindRate[] => {
    const [{ port }, ...more] = things;
    const portRateBps = port?.rateBps;
    if (kind === undefined || portRateBps === undefined || more.length === 0) return [];
    const alike = things.every((one) => one.port?.rateBps === portRateBps) && things.length * 2 > usersOf(things[0]);
    return alike ? [{ kind, interfaces: byLabel(things, entityLabel), portRateBps }] : [];
  });
}

function kindFinding({ kind, interfaces, portRateBps }: KindRate, model: Model): FindingDraft<Facts, Note> {
  const [first] = interfaces;
  const { rateBps } = first;
  const ports = portsOf(interfaces);
  const label = `kind ${kind.name} ${first.name}`;
  return {
    subject: `${label}${inRig(kind.rig)}`,
    parties: [...interfaces.map(entityLabel), ...ports.map(portLabel)],
    cure: () => {
      // What is too much for the ports tells that they are the slip.
      if (ports.some((port) => carriesMore(model, port))) return cure(model.plan, interfaces, rateBps);
      const edits = createEditList();
      const [port] = ports;
      const rate = port === undefined ? undefined : writtenAt(port, 'rate');
      if (rate === undefined) return peopleDecide('at which rate the ports run');
      edits.setWhereWritten(first, 'rate', rate);
      return likely(edits);
    },
    facts: { kind: kind.name, interfaces, rateBps, ports, portRateBps },
    at: noted(mark(first, label, 'rate'), { rateBps }),
    others: ports
      .slice(0, MOST_MARKS)
      .map((port) => noted(mark(port, portLabel(port), 'rate'), { rateBps: portRateBps })),
    touch: touchOfKind(kind),
  };
}

function carriesMore({ load }: Model, port: Port): boolean {
  const { toHost = 0, fromHost = 0 } = load.ports.get(port) ?? {};
  return Math.max(toHost, fromHost) > (port.rateBps ?? Infinity);
}

/** Enough to look it up. */
const MOST_MARKS = 20;

function portsOf(interfaces: readonly Interface[]): readonly Port[] {
  return byLabel(
    interfaces.flatMap(({ port }) => port ?? []),
    portLabel,
  );
}

function cure(plan: Plan, interfaces: NonEmpty<Interface>, rateBps: number): Cure {
  const edits = createEditList();
  const [first] = interfaces;
  const ports = interfaces.flatMap(({ port }) => port ?? []);
  const set = setOnPorts(edits, ports, { rate: writtenAt(first, 'rate') });
  const on = new Set(interfaces.map(({ port }) => port));
  const others = plan.interfaces.some((one) => on.has(one.port) && one.rateBps !== rateBps);
  return set && !others ? likely(edits) : peopleDecide('at which rate the port runs');
}
