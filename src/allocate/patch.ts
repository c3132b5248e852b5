/** Deals switch ports: each box to a switch of its area first, in the order of units; patched ports stay patched. */
import { addTo } from '../collections/group-by.js';
import { parseRate } from '../values/quantity.js';
import type { Demand, DeviceDemand, InterfaceDemand, NetworkDemand, SwitchDemand } from './demand.js';
import type { Kept } from './kept.js';
import { refused, type Refused, type RequestChange } from './refusal.js';
import { counted } from '../words/counts.js';

/** What is plugged into a numbered port. */
export interface Plug {
  readonly device: DeviceDemand;
  readonly end: InterfaceDemand;
}

export interface Patching {
  /** Port number, by switch. */
  readonly plugs: ReadonlyMap<SwitchDemand, ReadonlyMap<number, Plug>>;
  /** `switch/port`, by device and interface. */
  readonly ports: ReadonlyMap<DeviceDemand, ReadonlyMap<string, string>>;
  readonly elsewhere: readonly StrayPlug[];
}

/** What is plugged in another area than it stands in. */
export interface StrayPlug {
  readonly plug: Plug;
  readonly at: SwitchDemand;
  /** No switch of its network stands in its area; or those have no port left that is fast enough; or it stayed where it was. */
  readonly why: 'no switch' | 'full' | 'stayed';
}

const MOST_PORTS = 1024;

/** A port for every interface on a network that has switches, or how many are missing. */
export function patch(demand: Demand, kept: Kept | undefined): Patching | Refused {
  const plugs = new Map<SwitchDemand, Map<number, Plug>>(demand.switches.map((one) => [one, new Map()]));
  const ports = new Map<DeviceDemand, Map<string, string>>();
  const byName = new Map(demand.switches.map((one) => [one.raw.name, one]));
  const put = (device: DeviceDemand, end: InterfaceDemand, one: SwitchDemand, number: number): void => {
    plugs.get(one)?.set(number, { device, end });
    const own = ports.get(device) ?? new Map<string, string>();
    ports.set(device, own);
    own.set(end.raw.name, `${one.raw.name}/${number}`);
  };
  const open: Plug[] = [];
  for (const device of demand.devices) {
    for (const end of device.line.kind.interfaces) {
      if (end.vlan.network.switches.length === 0) continue;
      const before = kept?.devices.get(device.name) ?? kept?.held.get(device.name);
      const [name = '', port] = (before?.ports.get(end.raw.name) ?? '').split('/');
      const one = byName.get(name);
      const number = Number(port);
      const stays =
        one !== undefined &&
        one.network === end.vlan.network &&
        number >= 1 &&
        number <= one.raw.ports &&
        isFast(one, end) &&
        plugs.get(one)?.has(number) === false;
      if (stays) put(device, end, one, number);
      else open.push({ device, end });
    }
  }
  const free = createFreePorts(plugs, portsOfAbsent(demand, kept));
  const left: Plug[] = [];
  for (const plug of open) {
    const { network } = plug.end.vlan;
    const { area } = plug.device.line.raw;
    const inArea = switchesIn(network, area);
    const found = [...inArea, ...network.switches.filter((one) => !inArea.includes(one))].find(
      (one) => isFast(one, plug.end) && free(one) !== undefined,
    );
    const number = found === undefined ? undefined : free(found);
    if (found === undefined || number === undefined) {
      left.push(plug);
      continue;
    }
    put(plug.device, plug.end, found, number);
  }
  const short = new Set(left.map(({ end }) => end.vlan.network));
  return short.size === 0
    ? { plugs, ports, elsewhere: strayPlugs(plugs, free) }
    : refused(...[...short].map((network) => shortOfPorts(left, network)));
}

function switchesIn({ switches }: NetworkDemand, area: string | undefined): readonly SwitchDemand[] {
  return area === undefined ? [] : switches.filter(({ raw }) => raw.area === area);
}

/** What is plugged outside its area, in the order of switches and ports. */
function strayPlugs(plugs: Patching['plugs'], free: (one: SwitchDemand) => number | undefined): readonly StrayPlug[] {
  return [...plugs].flatMap(([at, own]) =>
    [...own]
      .sort(([a], [b]) => a - b)
      .flatMap(([, plug]): readonly StrayPlug[] => {
        const { area } = plug.device.line.raw;
        if (area === undefined || at.raw.area === area) return [];
        const inArea = switchesIn(at.network, area);
        const hasRoom = inArea.some((one) => isFast(one, plug.end) && free(one) !== undefined);
        return [{ plug, at, why: inArea.length === 0 ? 'no switch' : hasRoom ? 'stayed' : 'full' }];
      }),
  );
}

/** The next port of a switch that nobody has: those of boxes that are away come last. */
function createFreePorts(
  plugs: ReadonlyMap<SwitchDemand, ReadonlyMap<number, Plug>>,
  ofAbsent: ReadonlyMap<string, ReadonlySet<number>>,
): (one: SwitchDemand) => number | undefined {
  const cursors = new Map<SwitchDemand, number>();
  return (one) => {
    const held = ofAbsent.get(one.raw.name) ?? new Set<number>();
    const taken = plugs.get(one) ?? new Map<number, Plug>();
    let number = cursors.get(one) ?? 1;
    while (taken.has(number) || held.has(number)) number++;
    cursors.set(one, number);
    if (number <= one.raw.ports) return number;
    for (const port of held) if (port <= one.raw.ports && !taken.has(port)) return port;
    return undefined;
  };
}

/** Numbers of ports by switch that boxes had which the request does not have. */
function portsOfAbsent({ byName }: Demand, kept: Kept | undefined): ReadonlyMap<string, ReadonlySet<number>> {
  const found = new Map<string, Set<number>>();
  for (const [device, { ports }] of [...(kept?.devices ?? []), ...(kept?.held ?? [])]) {
    if (byName.has(device)) continue;
    for (const text of ports.values()) {
      const [name = '', port] = text.split('/');
      addTo(found, name, Number(port));
    }
  }
  return found;
}

function isFast({ raw }: SwitchDemand, end: InterfaceDemand): boolean {
  const needed = end.raw.rate === undefined ? undefined : parseRate(end.raw.rate);
  const has = raw.rate === undefined ? undefined : parseRate(raw.rate);
  return needed === undefined || has === undefined || needed <= has;
}

function shortOfPorts(left: readonly Plug[], { raw: { name }, switches }: NetworkDemand): Refused['refusals'][number] {
  const own = left.filter(({ end }) => end.vlan.network.raw.name === name);
  const names = own.slice(0, 3).map(({ device, end }) => `${device.name} ${end.raw.name}`);
  const rest = own.length > 3 ? ` and ${own.length - 3} more` : '';
  const fastest = own.map(({ end }) => end.raw.rate).reduce((a, b) => (rateOf(b) > rateOf(a) ? b : a), undefined);
  const fast = switches.filter((one) => own.every(({ end }) => isFast(one, end)));
  const has = fast.reduce((sum, { raw }) => sum + raw.ports, 0);
  const slow = fast.length < switches.length;
  const rate = slow && fastest !== undefined ? ` of at least ${fastest}` : '';
  const ports = switches.map(
    ({ raw }) => `${raw.name} ${counted(raw.ports, 'port')}${raw.rate === undefined ? '' : ` of ${raw.rate}`}`,
  );
  return {
    what: `network ${name} has no port${rate} left for ${names.join(', ')}${rest}: ${ports.join(', ')}`,
    at: ['switches', switches[0]?.index ?? 0, slow && fast.length === 0 ? 'rate' : 'ports'],
    short: { of: `ports${rate} of network ${name}`, needed: has + own.length, has },
    changes: (fast.length > 0 ? fast : switches).flatMap(({ raw, index }): readonly RequestChange[] => {
      const more = { ...raw, ports: raw.ports + own.length, ...(fast.length > 0 ? {} : { rate: fastest }) };
      if (more.ports > MOST_PORTS) return [];
      const faster: RequestChange = {
        path: ['switches', index, 'rate'],
        value: fastest,
        words: `have faster ports on ${raw.name}: \`rate: ${fastest ?? ''}\``,
      };
      const both: RequestChange = {
        path: ['switches', index],
        value: more,
        words:
          fast.length > 0
            ? `have ${own.length} more on ${raw.name}: \`ports: ${more.ports}\``
            : `have more and faster ports on ${raw.name}: \`ports: ${more.ports}, rate: ${fastest ?? ''}\``,
      };
      return fast.length > 0 ? [both] : [faster, both];
    }),
  };
}

function rateOf(text: string | undefined): number {
  return (text === undefined ? undefined : parseRate(text)) ?? 0;
}
