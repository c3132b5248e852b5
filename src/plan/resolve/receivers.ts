/** Receivers, bound to the senders they take. */
import type { RawDevice, RawReceiver, RawReceiverLeg } from '../../read/raw-plan.js';
import { parseTime } from '../../values/quantity.js';
import type {
  Device,
  Interface,
  Leg,
  Origin,
  Receiver,
  ReceiverLeg,
  Referrer,
  Rig,
  Selection,
  Sender,
} from '../types.js';
import { listOrigin, originOf, type Draft, type ResolveContext, type Scope } from './context.js';
import { createSets, sendersOf, type Sets, type StreamPlaces } from './choices.js';
import { findInterface, interfaceNamed, mapPairs, pairOrigin, type Base, type DeviceInput } from './devices.js';
import { ResolvedReceiverLeg } from './entities.js';
import { formatOf } from './formats.js';

/** Where the streams that receivers take are found. */
export interface Takeable extends StreamPlaces {
  readonly senders: readonly Sender[];
}

export interface Receivers {
  readonly receivers: readonly Receiver[];
  readonly receiverLegs: readonly ReceiverLeg[];
}

/** Fills in the receivers of every device, and says them all. */
export function resolveReceivers(devices: readonly Device[], takeable: Takeable, input: DeviceInput): Receivers {
  const inSets = createSets(takeable, input.context);
  const receivers: Receiver[] = [];
  const receiverLegs: ReceiverLeg[] = [];
  for (const device of devices) {
    const raw = device.origin.container as RawDevice;
    const base = device.origin.base;
    const inherited = base?.container as RawDevice | undefined;
    if (raw.receivers === undefined && inherited?.receivers === undefined) continue;
    const below =
      base === undefined
        ? undefined
        : { document: base.document, originOf: (entry: object): Origin => originOf(base.document, entry) };
    const choices = mapPairs(raw.receivers, inherited?.receivers, (own, kind) =>
      resolveReceiver({ device, base: below, own, inherited: kind }, takeable, inSets, input),
    );
    const [only, ...others] = choices;
    const own = only === undefined ? NONE : others.length === 0 ? only : choices.flat();
    (device as Draft<Device>).receivers = own;
    for (const receiver of own) {
      receivers.push(receiver);
      for (const leg of receiver.legs) receiverLegs.push(leg);
    }
  }
  return { receivers, receiverLegs };
}

/** An entry of a device beside the one of its kind. */
interface Entry {
  readonly device: Device;
  readonly base: Base | undefined;
  readonly own: RawReceiver | undefined;
  readonly inherited: RawReceiver | undefined;
}

/** One receiver; of an entry that switches, one for each stream it may take. */
function resolveReceiver(
  { device, base, own, inherited }: Entry,
  takeable: Takeable,
  inSets: Sets,
  input: DeviceInput,
): readonly Receiver[] {
  const { context } = input;
  const { document } = device.origin;
  const origin = pairOrigin(document, base, own, inherited);
  const name = own?.name ?? inherited?.name ?? '';
  const takes = own?.takes ?? inherited?.takes;
  const receiver: Draft<Receiver> = {
    origin,
    rig: device.rig,
    device,
    name,
    label: `${device.name}/${name}`,
    selection: undefined,
    takes: undefined,
    format: undefined,
    legs: [],
    bufferNs: undefined,
  };
  const by = { kind: 'receiver', entity: receiver } as const;
  const find = (at: Origin, key: string | number, text: string): Sender | undefined =>
    findSender(device.rig, at, key, text, by, takeable.devices, takeable.streams, context);
  const several =
    typeof takes === 'object' ? sendersOf(takes, { device, at: listOrigin(origin, 'takes'), by }, find, inSets) : NONE;
  receiver.takes = typeof takes === 'string' ? find(origin, 'takes', takes) : several[0];
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
  const legsOf = legsMaker(receiver, base, own, inherited, by, input);
  receiver.legs = legsOf(receiver);
  if (typeof takes !== 'object') return [receiver];
  const choices = [
    receiver,
    ...several.slice(1).map((sender): Draft<Receiver> => {
      const choice: Draft<Receiver> = { ...receiver, takes: sender };
      choice.legs = legsOf(choice);
      return choice;
    }),
  ];
  const selection: Selection = {
    atOnce: own?.atOnce ?? inherited?.atOnce ?? 1,
    joinsFirst: own?.joinsFirst ?? inherited?.joinsFirst,
    choices,
  };
  for (const choice of choices) choice.selection = selection;
  return choices;
}

const NONE: readonly never[] = [];

/** Makes the legs of a receiver; what its entry names is looked up once, however many streams it may take. */
function legsMaker(
  first: Receiver,
  base: Base | undefined,
  own: RawReceiver | undefined,
  inherited: RawReceiver | undefined,
  by: Extract<Referrer, { readonly kind: 'receiver' }>,
  input: DeviceInput,
): (receiver: Receiver) => readonly ReceiverLeg[] {
  const { device, origin } = first;
  const rawLegs = own?.legs;
  const belowLegs = inherited?.legs;
  const count = Math.max(rawLegs?.length ?? 0, belowLegs?.length ?? 0);
  if (count > 0) {
    const makers = Array.from({ length: count }, (_, index) =>
      legMaker(by, base, rawLegs?.[index], belowLegs?.[index], index, input),
    );
    return (receiver) => makers.map((make) => make(receiver));
  }
  const names = own?.interfaces ?? inherited?.interfaces;
  const stated = names === undefined ? undefined : named(device, origin, names, by, input.context);
  return (receiver) => {
    const legs: ReceiverLeg[] = [];
    const on = stated ?? interfacesFor(device, receiver.takes);
    for (let index = 0; index < on.length; index++) {
      const via = on[index];
      if (via !== undefined) legs.push(plainLeg(receiver, origin, index, via, legTaken(receiver.takes, via, index)));
    }
    return legs;
  };
}

function named(
  device: Device,
  origin: Origin,
  names: readonly string[],
  by: Referrer,
  context: ResolveContext,
): readonly (Interface | undefined)[] {
  return names.map(
    (name, index) =>
      // Where it stands is looked for only where it leads nowhere.
      interfaceNamed(device, name) ?? findInterface(device, listOrigin(origin, 'interfaces'), name, by, context, index),
  );
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
  if (network !== undefined) for (const leg of takes.legs) if (leg.network === network) return leg;
  return takes.legs[index];
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

function legMaker(
  by: Extract<Referrer, { readonly kind: 'receiver' }>,
  base: Base | undefined,
  own: RawReceiverLeg | undefined,
  inherited: RawReceiverLeg | undefined,
  index: number,
  input: DeviceInput,
): (receiver: Receiver) => ReceiverLeg {
  const { context, known } = input;
  const { device, rig } = by.entity;
  const origin = pairOrigin(device.origin.document, base, own, inherited);
  const via = findInterface(device, origin, own?.interface ?? inherited?.interface, by, context);
  const group = context.address(origin, 'group', own?.group ?? inherited?.group);
  const source = context.address(origin, 'source', own?.source ?? inherited?.source);
  const vlan = via?.vlan ?? context.find(known.vlanScope, rig, origin, 'vlan', own?.vlan ?? inherited?.vlan, by);
  const network =
    vlan?.network ??
    via?.network ??
    context.find(known.networkScope, rig, origin, 'network', own?.network ?? inherited?.network, by);
  return (receiver) =>
    new ResolvedReceiverLeg(
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
