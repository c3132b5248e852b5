/** Whom a finding is about, told by the entities of the plan that its places and facts hold. */
import type {
  Device,
  Entity,
  Interface,
  Leg,
  Link,
  Plan,
  Port,
  Receiver,
  ReceiverLeg,
  Sender,
  Switch,
  SwitchAddress,
} from '../plan/types.js';
import { once } from '../collections/once.js';
import { append } from '../collections/group-by.js';
import type { FindingDraft } from './finding.js';

/** Entities of the places first, in their order, then those of the facts; each once. */
export function entitiesOf({ at, others = [], facts }: FindingDraft): ReadonlySet<Entity> {
  const found = new Set<Entity>();
  for (const { of } of [at, ...others]) if (of !== undefined) found.add(of);
  gather(facts, found, 0);
  return found;
}

/** Facts are flat; whatever goes deeper goes round in a circle. */
const DEEPEST = 12;

function gather(value: unknown, found: Set<Entity>, depth: number): void {
  if (typeof value !== 'object' || value === null || depth > DEEPEST) return;
  if (isEntity(value)) found.add(value);
  else if (Array.isArray(value)) for (const one of value as readonly unknown[]) gather(one, found, depth + 1);
  else if (Object.getPrototypeOf(value) === Object.prototype)
    for (const one of Object.values(value)) gather(one, found, depth + 1);
}

/** A convention rule's facts may have a key of that name too. */
function isEntity(value: object): value is Entity {
  const { origin } = value as { readonly origin?: unknown };
  return typeof origin === 'object' && origin !== null && 'container' in origin;
}

/** Devices and switches that entities are, stand on or join. */
export function boxesOf(entities: Iterable<Entity>): ReadonlySet<Device | Switch> {
  const found = new Set<Device | Switch>();
  for (const entity of entities)
    for (const box of boxesOfOne(entity)) if (box !== undefined && 'name' in box) found.add(box);
  return found;
}

function boxesOfOne(entity: Entity): readonly (Device | Switch | undefined)[] {
  if (isLegOfSender(entity)) return [entity.sender.device];
  if (isLegOfReceiver(entity)) return [entity.receiver.device];
  if ('ends' in entity) return (entity as Link).ends.map((end) => end.switch);
  if ('ports' in entity && 'addresses' in entity) return [entity as Switch];
  if ('interfaces' in entity && 'receivers' in entity) return [entity as Device];
  if ('switch' in entity) return [(entity as Port | SwitchAddress).switch];
  if ('device' in entity) return [(entity as Interface | Sender | Receiver).device];
  return [];
}

/** Receivers that entities are or belong to; undefined where they name none. */
export function receiversAmong(entities: Iterable<Entity>): readonly Receiver[] | undefined {
  const found = new Set<Receiver>();
  for (const entity of entities) {
    if (isLegOfReceiver(entity)) found.add(entity.receiver);
    else if (isReceiver(entity)) found.add(entity);
  }
  return found.size === 0 ? undefined : [...found];
}

/** Receivers of the streams that entities are or belong to; undefined where they name no stream. */
export function takersAmong(
  entities: Iterable<Entity>,
  takersOf: (sender: Sender) => readonly Receiver[],
): readonly Receiver[] | undefined {
  const senders = new Set<Sender>();
  for (const entity of entities) {
    if (isLegOfSender(entity)) senders.add(entity.sender);
    else if (isSender(entity)) senders.add(entity);
  }
  return senders.size === 0 ? undefined : [...senders].flatMap(takersOf);
}

/** Legs of the receivers that entities name; where they name none, the legs that streams or interfaces of theirs serve. */
export function legsAmong(
  entities: ReadonlySet<Entity>,
  takersOf: (sender: Sender) => readonly Receiver[],
): readonly ReceiverLeg[] {
  const named = [...entities].flatMap((one) => (isLegOfReceiver(one) ? [one] : isReceiver(one) ? one.legs : []));
  if (named.length > 0) return [...new Set(named)];
  const sent = [...entities].flatMap((one) => (isLegOfSender(one) ? [one] : isSender(one) ? one.legs : []));
  const interfaces = [...entities].filter(isInterface);
  const legs = [...sent, ...interfaces.flatMap((via) => via.device.senders.flatMap((sender) => on(via, sender.legs)))];
  const takers = legs.flatMap((leg) =>
    takersOf(leg.sender).flatMap((one) => one.legs.filter((own) => own.takes === leg)),
  );
  return [
    ...new Set([...takers, ...interfaces.flatMap((via) => via.device.receivers.flatMap((one) => on(via, one.legs)))]),
  ];
}

function on<T extends Leg | ReceiverLeg>(via: Interface, legs: readonly T[]): readonly T[] {
  return legs.filter((leg) => leg.interface === via);
}

/** Who takes a stream, looked up in one pass when first asked. */
export function createTakers({ receivers }: Plan): (sender: Sender) => readonly Receiver[] {
  const known = once(() => {
    const found = new Map<Sender, Receiver[]>();
    for (const receiver of receivers) if (receiver.takes !== undefined) append(found, receiver.takes, receiver);
    return found;
  });
  return (sender) => known().get(sender) ?? [];
}

/**
 * What to call the thing that has the fault: the stream or receiver where several of its legs are concerned, else what
 * stands at the place to change first.
 */
export function nameOf({ at, others = [] }: FindingDraft): string {
  const owner = ownerOf(at.of);
  if (owner === undefined) return at.label;
  return others.some(({ of }) => of !== at.of && ownerOf(of) === owner) ? owner.label : at.label;
}

function ownerOf(entity: Entity | undefined): Sender | Receiver | undefined {
  if (entity === undefined) return undefined;
  if (isLegOfSender(entity)) return entity.sender;
  return isLegOfReceiver(entity) ? entity.receiver : undefined;
}

function isLegOfSender(entity: Entity): entity is Leg {
  return 'sender' in entity && 'index' in entity;
}

function isLegOfReceiver(entity: Entity): entity is ReceiverLeg {
  return 'receiver' in entity && 'index' in entity;
}

function isInterface(entity: Entity): entity is Interface {
  return 'mac' in entity && 'device' in entity;
}

function isReceiver(entity: Entity): entity is Receiver {
  return 'selection' in entity && 'takes' in entity;
}

function isSender(entity: Entity): entity is Sender {
  return 'essence' in entity && 'legs' in entity;
}
