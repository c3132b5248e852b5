import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  knownEnds,
  linkEnds,
  linkLabel,
  listNames,
  mark,
  portLabel,
  portRanges,
  vlansOfPort,
  type FindingDraft,
  type Plan,
  type Port,
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
    for (const link of plan.links) {
      const ends = knownEnds(link);
      if (ends === undefined || ends.some((end) => told.has(end.port))) continue;
      const [low, high] = (ends[0].port.mtu ?? 0) <= (ends[1].port.mtu ?? 0) ? ends : [ends[1], ends[0]];
      if (low.port.mtu === undefined || high.port.mtu === undefined || low.port.mtu === high.port.mtu) continue;
      const label = linkLabel(link);
      yield {
        subject: linkEnds(link),
        parties: ends.map((end) => portLabel(end.port)),
        what: `link ${label} has an MTU of ${low.port.mtu} at ${portLabel(low.port)} and of ${high.port.mtu} at ${portLabel(high.port)}`,
        at: mtuMark(low.port, `${portLabel(low.port)}: MTU ${low.port.mtu}`),
        others: [mtuMark(high.port, `${portLabel(high.port)}: MTU ${high.port.mtu}`)],
        onAir: `packets of more than ${low.port.mtu} octets are dropped here without a message: what sends small packets works, a stream of large ones is black behind this link`,
        fix: `set both ends to ${high.port.mtu}, or keep every packet within ${low.port.mtu}`,
        touch: { kind: 'switch', name: low.switch.name },
      };
    }
  },
});

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

function smallFinding(vlan: Vlan, ports: readonly Port[], severalRigs: boolean): FindingDraft {
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
