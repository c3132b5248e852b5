/** Devices, with everything their kind gives them. */
import type { Document } from '../../source/document.js';
import type { RawDevice, RawInterface, RawSender, RawSenderLeg } from '../../read/raw-plan.js';
import { isIPv4, type Address } from '../../values/address.js';
import { parseRate, parseTime } from '../../values/quantity.js';
import type { Device, Interface, Kind, Leg, Origin, Referrer, Rig, Sender, Vlan } from '../types.js';
import { originOf, Scope, type Draft, type ResolveContext } from './context.js';
import { ResolvedLeg, ResolvedSender } from './entities.js';
import { formatOf, type Formats } from './formats.js';
import type { Infrastructure } from './infrastructure.js';
import { findPort } from './links.js';
import type { VlanOfAddress } from './placement.js';
import { partsOfDevice, resolvePtp } from './ptp.js';
import { rawPlan, type Rigs } from './rigs.js';

export interface Devices {
  readonly kinds: readonly Kind[];
  readonly devices: readonly Device[];
  /** Of all devices, in their order; gathered while they are at hand. */
  readonly interfaces: readonly Interface[];
  readonly senders: readonly Sender[];
  readonly legs: readonly Leg[];
  readonly scope: Scope<Device>;
  readonly kindScope: Scope<{ readonly kind: Kind }>;
}

export interface DeviceInput {
  readonly rigs: Rigs;
  readonly known: Infrastructure;
  readonly formats: Formats;
  readonly vlanOf: VlanOfAddress;
  readonly context: ResolveContext;
}

/** A kind with the origins its devices share, made once however many devices there are. */
interface KnownKind {
  readonly kind: Draft<Kind>;
  readonly raw: RawDevice;
  readonly document: Document;
  readonly origin: Origin;
  readonly originOf: (entry: object) => Origin;
}

export function resolveDevices(documents: readonly Document[], input: DeviceInput): Devices {
  const kindScope = new Scope<KnownKind>('kind');
  const scope = new Scope<Device>('device');
  const kinds: Kind[] = [];
  for (const document of documents) {
    const rig = input.rigs.of(document);
    for (const raw of rawPlan(document).kinds ?? []) {
      const origin = originOf(document, raw);
      const kind: Draft<Kind> = { origin, rig, name: raw.name, used: false };
      kinds.push(kind);
      kindScope.add(rig, raw.name, { kind, raw, document, origin, originOf: sharedOrigins(document, raw) });
    }
  }
  const devices: Device[] = [];
  const interfaces: Interface[] = [];
  const senders: Sender[] = [];
  const legs: Leg[] = [];
  for (const document of documents) {
    const rig = input.rigs.of(document);
    for (const raw of rawPlan(document).devices ?? []) {
      const device = resolveDevice(document, raw, rig, kindScope, input);
      devices.push(device);
      scope.add(rig, raw.name, device);
      for (const one of device.interfaces) interfaces.push(one);
      for (const sender of device.senders) {
        senders.push(sender);
        for (const leg of sender.legs) legs.push(leg);
      }
    }
  }
  return { kinds, devices, interfaces, senders, legs, scope, kindScope };
}

function sharedOrigins(document: Document, raw: RawDevice): (entry: object) => Origin {
  const entries = [
    ...(raw.interfaces ?? []),
    ...(raw.senders ?? []),
    ...(raw.senders ?? []).flatMap((sender) => sender.legs ?? []),
  ];
  const made = new Map<object, Origin>(entries.map((entry) => [entry, originOf(document, entry)]));
  return (entry) => made.get(entry) ?? originOf(document, entry);
}

function resolveDevice(
  document: Document,
  raw: RawDevice,
  rig: Rig,
  kinds: Scope<KnownKind>,
  input: DeviceInput,
): Device {
  const { context } = input;
  const device: Draft<Device> = {
    origin: originOf(document, raw),
    rig,
    name: raw.name,
    kind: undefined,
    area: raw.area,
    routes: raw.routes ?? false,
    host: raw.host,
    power: raw.power ?? NONE,
    interfaces: NONE,
    senders: NONE,
    receivers: NONE,
    delayNs: undefined,
    ptp: undefined,
  };
  const by = { kind: 'device', entity: device } as const;
  const known = context.find(kinds, rig, device.origin, 'kind', raw.kind, by);
  const base = known?.raw;
  if (known !== undefined) {
    known.kind.used = true;
    device.origin = originOf(document, raw, known.origin);
    device.kind = known.kind;
    device.area ??= known.raw.area;
    device.routes = raw.routes ?? known.raw.routes ?? false;
    device.power = raw.power ?? known.raw.power ?? NONE;
  }
  device.delayNs = context.quantity(device.origin, 'delay', raw.delay ?? base?.delay, parseTime);
  device.interfaces = mapPairs(raw.interfaces, base?.interfaces, (own, inherited) =>
    resolveInterface(document, known, own, inherited, by, input),
  );
  const kindPtp = known?.raw.ptp === undefined ? undefined : { document: known.document, raw: known.raw.ptp };
  device.ptp = resolvePtp(document, raw.ptp, kindPtp, () => ({ ...partsOfDevice(device), context }));
  device.senders = mapPairs(raw.senders, base?.senders, (own, inherited) =>
    resolveSender({ document, base: known, raw: own, inherited, device, rig }, input),
  );
  return device;
}

const NONE: readonly never[] = [];

/**
 * Entries of a device beside those of its kind: by name, in the kind's order, then the device's additions. An entry the
 * kind has and the device leaves out is taken whole.
 */
export function mapPairs<T extends { readonly name: string }, U>(
  own: readonly T[] | undefined,
  inherited: readonly T[] | undefined,
  make: (own: T | undefined, inherited: T | undefined) => U,
): readonly U[] {
  if (inherited === undefined) return (own ?? []).map((one) => make(one, undefined));
  if (own === undefined || keepsOrder(own, inherited)) return inherited.map((base, index) => make(own?.[index], base));
  const left = new Set(own);
  const made = inherited.map((base) => {
    const match = own.find((one) => one.name === base.name && left.has(one));
    if (match !== undefined) left.delete(match);
    return make(match, base);
  });
  for (const one of left) made.push(make(one, undefined));
  return made;
}

/** Devices mostly write the first entries of their kind, in its order; then no search is needed. */
function keepsOrder<T extends { readonly name: string }>(own: readonly T[], inherited: readonly T[]): boolean {
  return own.every((one, index) => one.name === inherited[index]?.name);
}

/** What a device's entries inherit from. */
export interface Base {
  readonly document: Document;
  readonly originOf: (entry: object) => Origin;
}

/** Origin of an entry given by a device, by its kind, or by both. */
export function pairOrigin(
  document: Document,
  base: Base | undefined,
  own: object | undefined,
  inherited: object | undefined,
): Origin {
  const below = inherited === undefined || base === undefined ? undefined : base.originOf(inherited);
  if (own !== undefined) return originOf(document, own, below);
  if (below !== undefined) return below;
  throw new Error('an entry needs a device or a kind to stand in');
}

function resolveInterface(
  document: Document,
  base: Base | undefined,
  own: RawInterface | undefined,
  inherited: RawInterface | undefined,
  by: Extract<Referrer, { readonly kind: 'device' }>,
  input: DeviceInput,
): Interface {
  const { known, context } = input;
  const device = by.entity;
  const { rig } = device;
  const origin = pairOrigin(document, base, own, inherited);
  const address = context.interfaceAddress(origin, 'address', own?.address ?? inherited?.address);
  const address6 = context.interfaceAddress(origin, 'address6', own?.address6 ?? inherited?.address6);
  const portText = own?.port ?? inherited?.port;
  const port =
    portText === undefined ? undefined : findPort(known.switchScope, rig, origin, 'port', portText, by, context).port;
  const stated = context.find(known.vlanScope, rig, origin, 'vlan', own?.vlan ?? inherited?.vlan, by);
  const vlan = stated ?? port?.access ?? deducedVlan(rig, address?.address ?? address6?.address, input);
  return {
    origin,
    device,
    name: own?.name ?? inherited?.name ?? '',
    vlan,
    network:
      vlan?.network ?? context.find(known.networkScope, rig, origin, 'network', own?.network ?? inherited?.network, by),
    address: address?.address,
    prefixLength: address?.length,
    address6: address6?.address,
    prefixLength6: address6?.length,
    mac: context.mac(origin, 'mac', own?.mac ?? inherited?.mac),
    port,
    rateBps: context.quantity(origin, 'rate', own?.rate ?? inherited?.rate, parseRate) ?? port?.rateBps,
    gateway: context.address(origin, 'gateway', own?.gateway ?? inherited?.gateway),
    dhcp: own?.dhcp ?? inherited?.dhcp ?? false,
    igmpVersion: own?.igmpVersion ?? inherited?.igmpVersion,
    mldVersion: own?.mldVersion ?? inherited?.mldVersion,
    bond: own?.bond ?? inherited?.bond,
    unnumbered: own?.unnumbered ?? inherited?.unnumbered ?? false,
    silent: own?.silent ?? inherited?.silent ?? false,
  };
}

function deducedVlan(rig: Rig, address: Address | undefined, input: DeviceInput): Vlan | undefined {
  return address === undefined ? undefined : input.vlanOf(rig, address);
}

export interface SenderInput {
  readonly document: Document;
  readonly base: Base | undefined;
  readonly raw: RawSender | undefined;
  readonly inherited: RawSender | undefined;
  readonly device: Device | undefined;
  readonly rig: Rig;
}

export function resolveSender(one: SenderInput, input: DeviceInput): Sender {
  const { document, base, raw, inherited, device, rig } = one;
  const { context } = input;
  const origin = pairOrigin(document, base, raw, inherited);
  const name = raw?.name ?? inherited?.name ?? '';
  const own = raw?.legs;
  const below = inherited?.legs;
  const count = Math.max(own?.length ?? 0, below?.length ?? 0);
  const legs = new Array<Leg>(count);
  const sender = new ResolvedSender(origin, rig, device, name, legs, raw?.session);
  const by: Referrer = device === undefined ? { kind: 'stream', entity: sender } : { kind: 'device', entity: device };
  const draft: Draft<Sender> = sender;
  draft.format = formatOf(
    raw?.format !== undefined || base === undefined ? document : base.document,
    raw?.format ?? inherited?.format,
    input.formats,
    rig,
    origin,
    by,
    context,
  );
  draft.essence = raw?.essence ?? inherited?.essence ?? draft.format?.essence;
  draft.delayNs = context.quantity(origin, 'delay', raw?.delay ?? inherited?.delay, parseTime);
  for (let index = 0; index < count; index++)
    legs[index] = resolveLeg(one, own?.[index], below?.[index], sender, index, by, input);
  return sender;
}

/** Written out member by member: this runs for every leg of the plan. */
function resolveLeg(
  one: SenderInput,
  own: RawSenderLeg | undefined,
  inherited: RawSenderLeg | undefined,
  sender: Sender,
  index: number,
  by: Referrer,
  input: DeviceInput,
): Leg {
  const { known, context } = input;
  const { device, rig } = one;
  const origin = pairOrigin(one.document, one.base, own, inherited);
  const via = findInterface(device, origin, own?.interface ?? inherited?.interface, by, context);
  const group = context.address(origin, 'group', own?.group ?? inherited?.group);
  const unicast = context.address(origin, 'unicast', own?.unicast ?? inherited?.unicast);
  const stated = context.address(origin, 'source', own?.source ?? inherited?.source);
  const source = stated ?? sourceOf(via, group ?? unicast);
  const vlan =
    via?.vlan ??
    context.find(known.vlanScope, rig, origin, 'vlan', own?.vlan ?? inherited?.vlan, by) ??
    (via === undefined ? deducedVlan(rig, source, input) : undefined);
  const network =
    vlan?.network ??
    via?.network ??
    context.find(known.networkScope, rig, origin, 'network', own?.network ?? inherited?.network, by);
  // The source column of a stream list says who sends, not that receivers filter by it.
  const sourceStated = stated !== undefined && !one.document.isList;
  const packetTimeNs = context.quantity(origin, 'packetTime', own?.packetTime ?? inherited?.packetTime, parseTime);
  return new ResolvedLeg(origin, sender, index, via, vlan, network, group, unicast, source, sourceStated, packetTimeNs);
}

/** The interface's address of the destination's family. */
function sourceOf(via: Interface | undefined, destination: Address | undefined): Address | undefined {
  if (via === undefined) return undefined;
  if (destination === undefined) return via.address ?? via.address6;
  return isIPv4(destination) ? via.address : via.address6;
}

export function findInterface(
  device: Device | undefined,
  origin: Origin,
  text: string | undefined,
  by: Referrer,
  context: ResolveContext,
  key: string | number = 'interface',
): Interface | undefined {
  if (text === undefined || (device === undefined && origin.document.isList)) return undefined;
  const found = device === undefined ? undefined : interfaceNamed(device, text);
  if (found !== undefined) return found;
  context.lost(origin, key, { kind: 'interface', ...(device === undefined ? {} : { of: device }) }, text, by, () =>
    (device?.interfaces ?? []).map((one) => one.name),
  );
  return undefined;
}

/** The first interface of a device that has a name. */
export function interfaceNamed({ interfaces }: Device, name: string): Interface | undefined {
  for (const one of interfaces) if (one.name === name) return one;
  return undefined;
}
