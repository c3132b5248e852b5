/** Receivers, bound to the senders they take. */
import type { RawDevice, RawReceiver, RawReceiverLeg } from '../../read/raw-plan.js';
import { parseTime } from '../../values/quantity.js';
import type { Device, Interface, Leg, Origin, Receiver, ReceiverLeg, Referrer, Rig, Sender } from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';
import { findInterface, mapPairs, pairOrigin, type Base, type DeviceInput } from './devices.js';
import { ResolvedReceiverLeg } from './entities.js';
import { formatOf } from './formats.js';

/** Fills in the receivers of every device. */
export function resolveReceivers(
  devices: readonly Device[],
  scope: Scope<Device>,
  streams: Scope<Sender>,
  input: DeviceInput,
): void {
  for (const device of devices) {
    const raw = device.origin.container as RawDevice;
    const base = device.origin.base;
    const inherited = base?.container as RawDevice | undefined;
    if (raw.receivers === undefined && inherited?.receivers === undefined) continue;
    const below =
      base === undefined
        ? undefined
        : { document: base.document, originOf: (entry: object): Origin => originOf(base.document, entry) };
    (device as Draft<Device>).receivers = mapPairs(raw.receivers, inherited?.receivers, (own, kind) =>
      resolveReceiver(device, below, own, kind, scope, streams, input),
    );
  }
}

function resolveReceiver(
  device: Device,
  base: Base | undefined,
  own: RawReceiver | undefined,
  inherited: RawReceiver | undefined,
  scope: Scope<Device>,
  streams: Scope<Sender>,
  input: DeviceInput,
): Receiver {
  const { context } = input;
  const { document } = device.origin;
  const origin = pairOrigin(document, base, own, inherited);
  const name = own?.name ?? inherited?.name ?? '';
  const takesText = own?.takes ?? inherited?.takes;
  const receiver: Draft<Receiver> = {
    origin,
    rig: device.rig,
    device,
    name,
    label: `${device.name}/${name}`,
    takes: undefined,
    format: undefined,
    legs: [],
    bufferNs: undefined,
  };
  const by = { kind: 'receiver', entity: receiver } as const;
  if (takesText !== undefined)
    receiver.takes = findSender(device.rig, origin, 'takes', takesText, by, scope, streams, context);
  receiver.format = formatOf(
    own?.format !== undefined || base === undefined ? document : base.document,
    own?.format ?? inherited?.format,
    input.formats,
    device.rig,
    origin,
    by,
    context,
  );
  receiver.bufferNs = context.quantity(origin, 'delay', own?.delay ?? inherited?.delay, parseTime);
  const rawLegs = own?.legs;
  const belowLegs = inherited?.legs;
  const count = Math.max(rawLegs?.length ?? 0, belowLegs?.length ?? 0);
  if (count > 0) {
    receiver.legs = Array.from({ length: count }, (_, index) =>
      resolveLeg(by, base, rawLegs?.[index], belowLegs?.[index], index, input),
    );
    return receiver;
  }
  const names = own?.interfaces ?? inherited?.interfaces;
  const { takes } = receiver;
  const interfaces = names === undefined ? interfacesFor(device, takes) : named(device, origin, names, by, context);
  receiver.legs = interfaces.flatMap((via, index) =>
    via === undefined ? [] : plainLeg(receiver, origin, index, via, legTaken(takes, via, index)),
  );
  return receiver;
}

function named(
  device: Device,
  origin: Origin,
  names: readonly string[],
  by: Referrer,
  context: ResolveContext,
): readonly (Interface | undefined)[] {
  const list = listOrigin(origin, 'interfaces');
  return names.map((name, index) => findInterface(device, list, name, by, context, index));
}

/** Where nothing is said, each leg is taken on the device's interface that is on the leg's network. */
function interfacesFor(device: Device, takes: Sender | undefined): readonly (Interface | undefined)[] {
  return (takes?.legs ?? []).map((leg) => {
    const sameVlan = leg.vlan === undefined ? undefined : device.interfaces.find((one) => one.vlan === leg.vlan);
    const sameNetwork =
      leg.network === undefined ? undefined : device.interfaces.find((one) => one.network === leg.network);
    const sameName =
      leg.interface === undefined
        ? undefined
        : device.interfaces.find((one) => one.network === undefined && one.name === leg.interface?.name);
    return sameVlan ?? sameNetwork ?? sameName;
  });
}

function legTaken(takes: Sender | undefined, via: Interface | undefined, index: number): Leg | undefined {
  if (takes === undefined) return undefined;
  const network = via?.network;
  const onNetwork = network === undefined ? undefined : takes.legs.find((leg) => leg.network === network);
  return onNetwork ?? takes.legs[index];
}

function plainLeg(
  receiver: Receiver,
  origin: Origin,
  index: number,
  via: Interface,
  takes: Leg | undefined,
): ReceiverLeg {
  return new ResolvedReceiverLeg(origin, receiver, index, via, via.vlan, via.network, takes, undefined, undefined);
}

function resolveLeg(
  by: Extract<Referrer, { readonly kind: 'receiver' }>,
  base: Base | undefined,
  own: RawReceiverLeg | undefined,
  inherited: RawReceiverLeg | undefined,
  index: number,
  input: DeviceInput,
): ReceiverLeg {
  const { context, known } = input;
  const receiver = by.entity;
  const { device, rig } = receiver;
  const origin = pairOrigin(device.origin.document, base, own, inherited);
  const via = findInterface(device, origin, own?.interface ?? inherited?.interface, by, context);
  const group = context.address(origin, 'group', own?.group ?? inherited?.group);
  const source = context.address(origin, 'source', own?.source ?? inherited?.source);
  const vlan = via?.vlan ?? context.find(known.vlanScope, rig, origin, 'vlan', own?.vlan ?? inherited?.vlan, by);
  const network =
    vlan?.network ??
    via?.network ??
    context.find(known.networkScope, rig, origin, 'network', own?.network ?? inherited?.network, by);
  return new ResolvedReceiverLeg(
    origin,
    receiver,
    index,
    via,
    vlan,
    network,
    legTaken(receiver.takes, via, index),
    group,
    source,
  );
}

/** `device/sender`, or the name of a stream known by description only. */
export function findSender(
  rig: Rig,
  origin: Origin,
  key: string | number,
  text: string,
  by: Referrer,
  scope: Scope<Device>,
  streams: Scope<Sender>,
  context: ResolveContext,
): Sender | undefined {
  const slash = text.indexOf('/');
  if (slash < 0) return context.find(streams, rig, origin, key, text, by);
  const owner = context.find(scope, rig, origin, key, text.slice(0, slash), by);
  if (owner === undefined) return undefined;
  const name = text.slice(slash + 1);
  const found = owner.senders.find((sender) => sender.name === name);
  if (found === undefined)
    context.lost(origin, key, { kind: 'sender', of: owner }, name, by, () =>
      owner.senders.map((sender) => sender.name),
    );
  return found;
}
