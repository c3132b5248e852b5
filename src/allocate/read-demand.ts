/** A request as demand: every name a reference, every count a number, or what is wrong with it. */
import { codingNamed } from '../media/codings/index.js';
import type { RawSenderLeg } from '../read/raw-plan.js';
import { doubledNames } from './doubled.js';
import { nearest } from '../collections/nearest.js';
import type { Refusal, Refused, RequestPath } from './refusal.js';
import type { RawRequest } from './request.js';
import {
  type NetworkDemand,
  type VlanDemand,
  type SwitchDemand,
  type InterfaceDemand,
  type StreamLeg,
  type StreamDemand,
  type KindDemand,
  type LineDemand,
  type DeviceDemand,
  type Demand,
  growthOf,
  isSecond,
} from './demand.js';

type Draft<T> = { -readonly [K in keyof T]: T[K] };

/** The demand of a request, or every name in it that leads nowhere or means two things. */
export function readDemand(request: RawRequest): Demand | Refused {
  const refusals: Refusal[] = [];
  const lost: Lost = (at, wanted, text, known, whole = (name) => name) => {
    // A request full of slips is told of the first ones.
    const close = refusals.length < MOST_GUESSES ? nearest(text, known) : undefined;
    const value = close === undefined ? '' : whole(close);
    refusals.push({
      what: `there is no ${wanted} \`${text}\`${close === undefined ? '' : `; did you mean \`${close}\`?`}`,
      at,
      changes: close === undefined ? [] : [{ path: at, value, words: `write \`${value}\`` }],
    });
  };
  const twice = (at: RequestPath, wanted: string, name: string): void => {
    refusals.push({ what: `there are two ${wanted} \`${name}\``, at, changes: [] });
  };
  for (const { at, wanted, name } of doubledNames(request)) twice(at, wanted, name);
  const networks = networksOf(request, lost, twice);
  const netByName = new Map(networks.map((one) => [one.raw.name, one]));
  const switches = switchesOf(request, netByName, lost, twice);
  for (const one of switches) (one.network.switches as SwitchDemand[]).push(one);
  const kinds = kindsOf(request, networks, netByName, lost, refusals);
  if (refusals.length > 0) return { refusals };
  const lines = linesOf(request, new Map(kinds.map((one) => [one.raw.name, one])), lost);
  const byName = new Map<string, DeviceDemand>();
  const devices = lines.flatMap((line) => line.devices);
  for (const device of devices) {
    if (byName.has(device.name)) twice(['devices', device.line.index, 'name'], 'devices', device.name);
    byName.set(device.name, device);
  }
  checkUse(request, lines, kinds, byName, lost, refusals);
  if (refusals.length > 0) return { refusals };
  const pairs = networks.flatMap((network) =>
    isSecond(network)
      ? []
      : [...network.vlans, ...(network.twin?.vlans.filter(({ twin }) => twin === undefined) ?? [])].map((vlan) => ({
          vlans: vlan.twin === undefined ? [vlan] : [vlan, vlan.twin],
        })),
  );
  return { request, networks, pairs, switches, kinds, lines, devices, byName };
}

type Lost = (
  at: RequestPath,
  wanted: string,
  text: string,
  known: Iterable<string>,
  /** What to write for a name that was meant, where the name is a part of the text. */
  whole?: (name: string) => string,
) => void;

const MOST_GUESSES = 20;

type Twice = (at: RequestPath, wanted: string, name: string) => void;

function networksOf(request: RawRequest, lost: Lost, twice: Twice): readonly NetworkDemand[] {
  const networks = request.networks.map((raw, index): Draft<NetworkDemand> => ({
    raw,
    index,
    vlans: [],
    twin: undefined,
    switches: [],
  }));
  const byName = new Map<string, Draft<NetworkDemand>>();
  for (const network of networks) {
    if (byName.has(network.raw.name)) twice(['networks', network.index, 'name'], 'networks', network.raw.name);
    byName.set(network.raw.name, network);
  }
  const own = new Map<NetworkDemand, Draft<VlanDemand>[]>(networks.map((one) => [one, []]));
  const names = new Set<string>();
  (request.vlans ?? []).forEach((raw, at) => {
    const network = byName.get(raw.network);
    if (network === undefined) {
      lost(['vlans', at, 'network'], 'network', raw.network, byName.keys());
      return;
    }
    if (names.has(raw.name)) twice(['vlans', at, 'name'], 'VLANs', raw.name);
    names.add(raw.name);
    const list = own.get(network) ?? [];
    list.push({
      name: raw.name,
      network,
      index: list.length,
      twin: undefined,
      dhcp: raw.dhcp ?? network.raw.dhcp ?? 0,
      about: raw.about,
    });
  });
  for (const network of networks) {
    const list = own.get(network) ?? [];
    const { name, dhcp = 0, about } = network.raw;
    if (list.length === 0) {
      if (names.has(name)) twice(['networks', network.index, 'name'], 'VLANs', name);
      list.push({ name, network, index: 0, twin: undefined, dhcp, about });
    }
    network.vlans = list;
  }
  const seconds = networks.filter(({ raw }) => raw.leg === 2);
  for (const first of networks) {
    if (first.raw.leg !== 1) continue;
    const second = seconds.find(({ twin, raw }) => twin === undefined && raw.role === first.raw.role);
    if (second === undefined) continue;
    first.twin = second;
    second.twin = first;
    const others = own.get(second) ?? [];
    (own.get(first) ?? []).forEach((vlan, index) => {
      const other = others[index];
      if (other === undefined) return;
      vlan.twin = other;
      other.twin = vlan;
    });
  }
  return networks;
}

function switchesOf(
  { switches = [] }: RawRequest,
  networks: ReadonlyMap<string, NetworkDemand>,
  lost: Lost,
  twice: Twice,
): readonly SwitchDemand[] {
  const found: Draft<SwitchDemand>[] = [];
  const byName = new Map<string, Draft<SwitchDemand>>();
  switches.forEach((raw, index) => {
    const network = networks.get(raw.network);
    if (network === undefined) {
      lost(['switches', index, 'network'], 'network', raw.network, networks.keys());
      return;
    }
    if (byName.has(raw.name)) twice(['switches', index, 'name'], 'switches', raw.name);
    const one: Draft<SwitchDemand> = { raw, index, network, uplink: undefined };
    const before = found.filter((other) => other.network === network);
    byName.set(raw.name, one);
    found.push(one);
    if (raw.uplink === undefined) one.uplink = before[0];
    else {
      one.uplink = before.find((other) => other.raw.name === raw.uplink);
      if (one.uplink === undefined)
        lost(
          ['switches', index, 'uplink'],
          'switch before it in its network',
          raw.uplink,
          before.map((other) => other.raw.name),
        );
    }
  });
  return found;
}

function kindsOf(
  request: RawRequest,
  networks: readonly NetworkDemand[],
  byName: ReadonlyMap<string, NetworkDemand>,
  lost: Lost,
  refusals: Refusal[],
): readonly KindDemand[] {
  const vlans = new Map(networks.flatMap((network) => network.vlans.map((vlan) => [vlan.name, vlan] as const)));
  const formats = new Map((request.formats ?? []).map((format) => [format.name, format]));
  return request.kinds.map((raw, index): KindDemand => {
    const path: RequestPath = ['kinds', index];
    const interfaces = (raw.interfaces ?? []).flatMap((one, at): readonly InterfaceDemand[] => {
      const here: RequestPath = [...path, 'interfaces', at];
      if (one.vlan !== undefined) {
        const vlan = vlans.get(one.vlan);
        if (vlan === undefined) lost([...here, 'vlan'], 'VLAN', one.vlan, vlans.keys());
        return vlan === undefined ? [] : [{ raw: one, vlan }];
      }
      const network = one.network === undefined ? undefined : byName.get(one.network);
      const [only, other] = network?.vlans ?? [];
      if (one.network !== undefined && network === undefined)
        lost([...here, 'network'], 'network', one.network, byName.keys());
      else if (only === undefined || other !== undefined)
        refusals.push({
          what: `interface \`${one.name}\` of kind \`${raw.name}\` does not say which VLAN it is in`,
          at: here,
          changes: (network?.vlans ?? []).map(({ name }) => ({
            path: [...here, 'vlan'],
            value: name,
            words: `write \`vlan: ${name}\``,
          })),
        });
      else return [{ raw: one, vlan: only }];
      return [];
    });
    const seen = new Map<VlanDemand, InterfaceDemand>();
    interfaces.forEach((one, at) => {
      const other = seen.get(one.vlan);
      if (other !== undefined)
        refusals.push({
          what: `interfaces \`${other.raw.name}\` and \`${one.raw.name}\` of kind \`${raw.name}\` are in one VLAN, ${one.vlan.name}; a box needs a subnet for each`,
          at: [...path, 'interfaces', at],
          changes: [],
        });
      seen.set(one.vlan, one);
    });
    const streams = (raw.senders ?? []).map((sender, at): StreamDemand => {
      const here: RequestPath = [...path, 'senders', at];
      const legs = (sender.legs ?? usualLegs(interfaces)).map((leg, legIndex): StreamLeg => {
        const via = interfaces.find((one) => one.raw.name === leg.interface);
        if (leg.interface !== undefined && via === undefined)
          lost(
            [...here, 'legs', legIndex, 'interface'],
            `interface of kind \`${raw.name}\``,
            leg.interface,
            interfaces.map((one) => one.raw.name),
          );
        const network =
          via?.vlan.network ??
          (leg.vlan === undefined ? undefined : vlans.get(leg.vlan)?.network) ??
          (leg.network === undefined ? undefined : byName.get(leg.network));
        return { raw: leg, network: leg.unicast === undefined ? network : undefined };
      });
      const sending = legs.flatMap(({ network }) => network ?? []);
      if (new Set(sending).size < sending.length)
        refusals.push({
          what: `both legs of \`${sender.name}\` of kind \`${raw.name}\` are sent on one network, so they would share a group`,
          at: here,
          changes: [],
        });
      const format = typeof sender.format === 'string' ? formats.get(sender.format) : sender.format;
      if (typeof sender.format === 'string' && format === undefined)
        lost([...here, 'format'], 'format', sender.format, formats.keys());
      return { raw: sender, essence: sender.essence ?? format?.essence ?? codingNamed(format?.coding)?.essence, legs };
    });
    return { raw, interfaces, streams };
  });
}

/** On every media interface that serves a leg, the first leg first; else on the first interface for media or sound. */
function usualLegs(interfaces: readonly InterfaceDemand[]): readonly RawSenderLeg[] {
  const legs = [1, 2].flatMap((leg) => interfaces.find(({ vlan }) => vlan.network.raw.leg === leg) ?? []);
  if (legs.length > 0) return legs.map(({ raw }) => ({ interface: raw.name }));
  const one = interfaces.find(({ vlan }) => vlan.network.raw.role === 'media' || vlan.network.raw.role === 'audio');
  return [one ?? interfaces[0]].flatMap((via) => (via === undefined ? [] : [{ interface: via.raw.name }]));
}

function linesOf(request: RawRequest, kinds: ReadonlyMap<string, KindDemand>, lost: Lost): readonly LineDemand[] {
  const areas = new Map((request.areas ?? []).map(({ name }, index) => [name, index]));
  const lines = request.devices.flatMap((raw, index): readonly LineDemand[] => {
    const kind = kinds.get(raw.kind);
    const area = raw.area === undefined ? -1 : areas.get(raw.area);
    if (kind === undefined) lost(['devices', index, 'kind'], 'kind', raw.kind, kinds.keys());
    if (area === undefined) lost(['devices', index, 'area'], 'area', raw.area ?? '', areas.keys());
    if (kind === undefined || area === undefined) return [];
    const count = raw.count ?? 1;
    // A box without a number is the only one of its name.
    const usual = raw.count === undefined ? 0 : growthOf(count, request);
    const line: Draft<LineDemand> = { raw, index, kind, area, devices: [], count, spare: raw.spare ?? usual };
    const first = raw.first ?? 1;
    const away = new Set(raw.without ?? []);
    line.devices = Array.from({ length: count }, (_, place) => place)
      .filter((place) => raw.count === undefined || !away.has(first + place))
      .map((place) => ({ name: raw.count === undefined ? raw.name : `${raw.name}-${first + place}`, line, place }));
    return [line];
  });
  const rank = ({ area }: LineDemand): number => (area < 0 ? areas.size : area);
  return lines.sort((a, b) => rank(a) - rank(b) || a.index - b.index);
}

function checkUse(
  request: RawRequest,
  lines: readonly LineDemand[],
  kinds: readonly KindDemand[],
  byName: ReadonlyMap<string, DeviceDemand>,
  lost: Lost,
  refusals: Refusal[],
): void {
  const used = new Set(lines.map(({ kind }) => kind));
  kinds.forEach((kind, index) => {
    if (!used.has(kind))
      refusals.push({
        what: `kind \`${kind.raw.name}\` stands nowhere`,
        at: ['kinds', index, 'name'],
        changes: [{ path: ['kinds', index], value: undefined, words: 'take it out' }],
      });
  });
  for (const line of lines) {
    for (const [receiver, takes] of Object.entries(line.raw.takes ?? {})) {
      const at: RequestPath = ['devices', line.index, 'takes', receiver];
      const receivers = (line.kind.raw.receivers ?? []).map(({ name }) => name);
      if (!receivers.includes(receiver)) lost(at, `receiver of kind \`${line.kind.raw.name}\``, receiver, receivers);
      const [device = '', stream] = takes.split('/');
      const streams = byName.get(device)?.line.kind.streams.map(({ raw }) => raw.name);
      if (streams === undefined)
        lost(at, 'device', device, byName.keys(), (name) => `${name}${takes.slice(device.length)}`);
      else if (!streams.includes(stream ?? ''))
        lost(at, `stream of \`${device}\``, stream ?? '', streams, (name) => `${device}/${name}`);
    }
  }
  (request.clock?.grandmasters ?? []).forEach((name, index) => {
    if (!byName.has(name)) lost(['clock', 'grandmasters', index], 'device', name, byName.keys());
  });
  (request.fixed ?? []).forEach(({ device }, index) => {
    if (!byName.has(device)) lost(['fixed', index, 'device'], 'device', device, byName.keys());
  });
}
