/** Labels and places of findings, made alike by all rules. */
import { isIPv4 } from '../values/address.js';
import { placeOf } from '../plan/place.js';
import type { Entity, Kind, Leg, ReceiverLeg, Rig, Sender, Vlan } from '../plan/types.js';
import type { Mark, Touch } from './finding.js';

/** A place with its label: `mark(leg, 'cam-3/video, leg 1', 'group')`. */
export function mark(entity: Entity, label: string, key?: string, item?: number): Mark {
  return { place: placeOf(entity, key, item), label };
}

/**
 * Sorted by label, so that a finding reads the same however the plan is ordered; numbers inside labels count as numbers
 * (cam-2 before cam-10).
 */
export function byLabel<T>(items: readonly T[], label: (item: T) => string): readonly T[] {
  return items.length < 2
    ? items
    : [...items].sort((a, b) => COLLATOR.compare(label(a), label(b)) || order(label(a), label(b)));
}

const COLLATOR = new Intl.Collator('en', { numeric: true });

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** `cam-3/video leg 1`, or `cam-3/video` when the stream has one leg. */
export function legLabel(leg: Leg): string {
  return leg.sender.legs.length > 1 ? `${leg.sender.label} leg ${leg.index + 1}` : leg.sender.label;
}

/** `mon-1/in leg 1`, or `mon-1/in` when the receiver has one leg. */
export function receiverLegLabel(leg: ReceiverLeg): string {
  return leg.receiver.legs.length > 1 ? `${leg.receiver.label} leg ${leg.index + 1}` : leg.receiver.label;
}

/** Where a leg's source is written: on the leg, or as the address of its interface. */
export function sourceMark(leg: Leg, label: string): Mark {
  const { interface: via, source } = leg;
  if (via === undefined || leg.sourceStated || source === undefined) return mark(leg, label, 'source');
  return mark(via, label, isIPv4(source) ? 'address' : 'address6');
}

/** `control of Heron`: for names that several rigs may use. */
export function withRig({ name, rig }: { readonly name: string; readonly rig: Rig }): string {
  return `${name}${ofRig(rig)}`;
}

/** ` of Heron`, or nothing for a rig without a name. */
export function ofRig(rig: Rig): string {
  return rig.name === '' ? '' : ` of ${rig.name}`;
}

/** What the crew touches to change a stream: its device, or the stream itself when no device is known. */
export function touchOf(sender: Sender): Touch {
  return sender.device === undefined
    ? { kind: 'stream', name: sender.label }
    : { kind: 'device', name: sender.device.name };
}

/** `red-video (id 210)`. */
export function withId(vlan: Vlan): string {
  return vlan.id === undefined ? vlan.name : `${vlan.name} (id ${vlan.id})`;
}

/** What is stated in a device kind is changed in the plan, once for all its devices. */
export function touchOfKind(kind: Kind): Touch {
  return { kind: 'plan', name: `kind ${kind.name}` };
}

/** The kind where one states it for all its devices, else the stream's device. */
export function touchOfCause(kind: Kind | undefined, sender: Sender): Touch {
  return kind === undefined ? touchOf(sender) : touchOfKind(kind);
}

/** Marks of other places than `at`, each place once: what a device kind states is one place, however many devices have it. */
export function otherPlaces(at: Mark, marks: readonly Mark[]): readonly Mark[] {
  const seen = new Map<object, Set<string | number | undefined>>([[at.place.container, new Set([at.place.key])]]);
  return marks.filter(({ place: { container, key } }) => {
    const keys = seen.get(container);
    if (keys === undefined) seen.set(container, new Set([key]));
    else if (keys.has(key)) return false;
    else keys.add(key);
    return true;
  });
}
