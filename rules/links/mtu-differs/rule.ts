import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  knownEnds,
  linkEnds,
  linkLabel,
  listNames,
  mark,
  portLabel,
  portRanges,
  vlansOfPort,
  type WordedDraft,
  type Link,
  type Plan,
  type Port,
  type Rig,
  type Switch,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'links/mtu-differs',
  summary: 'Packets that one port of a path takes are too large for another',
  severity: 'warning',
  sources: [clause('RFC 2923', '2.1'), commonPractice('all ports of a VLAN take packets of the same size')],
  needs: ['portMtus'],
  *check({ plan }) {
    const tooSmall = smallPorts(plan);
    for (const [vlan, ports] of tooSmall) yield smallFinding(vlan, ports, plan.rigs.length > 1);
    const told = new Set([...tooSmall.values()].flat());
    const steps = plan.links.flatMap((link) => stepOf(link, told));
    if (steps.length === 0) return;
    const votes = votesFor(plan);
    for (const [entity, own] of groupBy(steps, (step) => oddOf(step, votes))) yield oddFinding(entity, own, votes);
  },
});

/** A link whose ends take packets of different sizes. */
interface Step {
  readonly link: Link;
  readonly low: Port;
  readonly high: Port;
}

function stepOf(link: Link, told: ReadonlySet<Port>): readonly Step[] {
  const ends = knownEnds(link);
  if (ends === undefined || ends.some((end) => told.has(end.port))) return [];
  const [a, b] = [ends[0].port, ends[1].port];
  if (a.mtu === undefined || b.mtu === undefined || a.mtu === b.mtu) return [];
  return [a.mtu < b.mtu ? { link, low: a, high: b } : { link, low: b, high: a }];
}

/** What a rig writes of MTUs: how often each stands at a switch, at a port of its own or at a VLAN, and those of VLANs. */
interface Votes {
  readonly exact: ReadonlyMap<number, number>;
  readonly vlans: readonly number[];
}

function votesFor(plan: Plan): ReadonlyMap<Rig, Votes> {
  const written = new Map<Rig, number[]>(plan.rigs.map((rig) => [rig, []]));
  const add = (rig: Rig, mtu: number | undefined): void => {
    if (mtu !== undefined) written.get(rig)?.push(mtu);
  };
  for (const one of plan.switches) {
    add(one.rig, one.mtu);
    const entries = new Map(
      [...one.ports.values()].filter((port) => mtuEntity(port) === port).map((port) => [port.origin.container, port]),
    );
    for (const port of entries.values()) add(one.rig, port.mtu);
  }
  for (const vlan of plan.vlans) add(vlan.rig, vlan.mtu);
  return new Map(
    [...written].map(([rig, mtus]) => {
      const exact = new Map<number, number>();
      for (const mtu of mtus) exact.set(mtu, (exact.get(mtu) ?? 0) + 1);
      return [
        rig,
        { exact, vlans: plan.vlans.flatMap((vlan) => (vlan.rig === rig && vlan.mtu !== undefined ? [vlan.mtu] : [])) },
      ];
    }),
  );
}

/** The end whose MTU fewest agree with; a VLAN that needs more than the low end takes is for the high one. Else the low one. */
function oddOf({ low, high }: Step, votes: ReadonlyMap<Rig, Votes>): object {
  const [less, more] = [low.mtu ?? 0, high.mtu ?? 0];
  const forLow = votes.get(low.switch.rig)?.exact.get(less) ?? 0;
  const own = votes.get(high.switch.rig);
  const forHigh = (own?.exact.get(more) ?? 0) + (own?.vlans.filter((mtu) => mtu > less && mtu < more).length ?? 0);
  return containerOf(forHigh < forLow ? high : low);
}

/** Links with one odd end, or one odd switch, together. */
function oddFinding(entity: object, steps: readonly Step[], votes: ReadonlyMap<Rig, Votes>): WordedDraft {
  const links = byLabel(steps, ({ link }) => linkEnds(link));
  const [first] = links;
  if (first === undefined) throw new Error('an odd MTU is odd on a link');
  const odd = (step: Step): Port => (containerOf(step.low) === entity ? step.low : step.high);
  const other = (step: Step): Port => (odd(step) === step.low ? step.high : step.low);
  const port = odd(first);
  const mtu = port.mtu ?? 0;
  const whole = mtuEntity(port) !== port;
  const others = byLabel([...new Map(links.map((step) => [containerOf(other(step)), other(step)])).values()], mtuLabel);
  const smallest = Math.min(...links.map(({ low }) => low.mtu ?? 0));
  const lowest = links.every((step) => odd(step) === step.low);
  const agreed = (value: number): number => votes.get(port.switch.rig)?.exact.get(value) ?? 0;
  const wanted = [...new Set(links.map((step) => other(step).mtu ?? 0))].sort((a, b) => agreed(b) - agreed(a) || b - a);
  const sides = links.map((step) => `${linkLabel(step.link)} has ${other(step).mtu ?? 0} at ${portLabel(other(step))}`);
  return {
    subject: whole ? `switch ${port.switch.name}` : linkEnds(first.link),
    parties: [
      ...(whole ? [port.switch.name] : []),
      ...links.flatMap(({ low, high }) => [portLabel(low), portLabel(high)]),
    ],
    what: whole
      ? `switch ${port.switch.name} has an MTU of ${mtu}, but at the other end link ${listNames(sides, 4)}`
      : `link ${listNames(links.map(({ link }) => linkLabel(link)))} has an MTU of ${mtu} at ${listNames(links.map((step) => portLabel(odd(step))))} and of ${wanted.join(' or ')} at ${listNames(links.map((step) => portLabel(other(step))))}`,
    at: mtuMark(port, mtuLabel(port)),
    others: others.map((one) => mtuMark(one, mtuLabel(one))),
    onAir: `packets of more than ${smallest} octets are dropped here without a message: what sends small packets works, a stream of large ones is black behind ${links.length === 1 ? 'this link' : 'these links'}`,
    fix: whole
      ? `set switch ${port.switch.name} to ${wanted[0] ?? 0}${lowest ? `, or keep every packet within ${smallest}` : ', like what it is linked to'}`
      : `set both ends to ${wanted[0] ?? 0}${lowest ? `, or keep every packet within ${smallest}` : ''}`,
    touch: { kind: 'switch', name: port.switch.name },
  };
}

function mtuLabel(port: Port): string {
  const mtu = `MTU ${port.mtu ?? 0}`;
  return mtuEntity(port) === port ? `${portLabel(port)}: ${mtu}` : `switch ${port.switch.name}: ${mtu}`;
}

function containerOf(port: Port): object {
  return mtuEntity(port).origin.container;
}

/** Per VLAN that states an MTU, the ports that carry it with less. */
function smallPorts(plan: Plan): ReadonlyMap<Vlan, readonly Port[]> {
  const found = new Map<Vlan, Port[]>();
  for (const one of plan.switches) {
    for (const port of one.ports.values()) {
      const { mtu } = port;
      if (mtu === undefined) continue;
      for (const vlan of new Set(vlansOfPort(port))) {
        if (vlan.mtu === undefined || vlan.mtu <= mtu) continue;
        const ports = found.get(vlan);
        if (ports === undefined) found.set(vlan, [port]);
        else ports.push(port);
      }
    }
  }
  return found;
}

function smallFinding(vlan: Vlan, ports: readonly Port[], severalRigs: boolean): WordedDraft {
  const bySwitch = new Map<Switch, Port[]>();
  for (const port of ports) {
    const own = bySwitch.get(port.switch);
    if (own === undefined) bySwitch.set(port.switch, [port]);
    else own.push(port);
  }
  const groups = byLabel([...bySwitch], ([owner]) => owner.name);
  const places = groups.map(
    ([owner, own]) =>
      `${owner.name} (${own.length === 1 ? 'port' : 'ports'} ${portRanges(own.map((port) => port.name))})`,
  );
  const entries = [
    ...new Map(groups.flatMap(([, own]) => own).map((port) => [mtuEntity(port).origin.container, port])).values(),
  ];
  const [first, ...rest] = entries.map((port) => mtuMark(port, `switch ${port.switch.name}: MTU ${port.mtu ?? 0}`));
  const smallest = Math.min(...ports.map((port) => port.mtu ?? 0));
  return {
    subject: `VLAN ${vlan.name}${severalRigs ? ` of ${vlan.rig.name}` : ''}`,
    parties: [vlan.name, ...groups.map(([owner]) => owner.name)],
    severity: 'error',
    what: `VLAN ${vlan.name} promises an MTU of ${vlan.mtu ?? 0}, and is on ports that take less, down to ${smallest}: ${listNames(places)}`,
    at: first ?? mark(vlan, `VLAN ${vlan.name}`, 'mtu'),
    others: [...rest, mark(vlan, `VLAN ${vlan.name}: MTU ${vlan.mtu ?? 0}`, 'mtu')],
    onAir: `packets of more than ${smallest} octets are dropped at these ports without a message: the stream is black behind them, while small packets, pings among them, pass`,
    fix: `raise the MTU of these ports to ${vlan.mtu ?? 0} or more, or lower that of the VLAN and of everything that sends in it to ${smallest}`,
    touch: { kind: 'switch', name: groups[0]?.[0].name ?? '' },
  };
}

/** A port without an MTU of its own has its switch's. */
function mtuEntity(port: Port): Port | Switch {
  return Object.hasOwn(port.origin.container, 'mtu') ? port : port.switch;
}

function mtuMark(port: Port, label: string): ReturnType<typeof mark> {
  return mark(mtuEntity(port), label, 'mtu');
}
