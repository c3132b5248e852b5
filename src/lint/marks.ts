/** Places of findings and what the crew touches, made alike by all rules. */
import { isIPv4 } from '../values/address.js';
import { placeOf } from '../plan/place.js';
import type { Entity, Kind, Leg, Sender } from '../plan/types.js';
import type { Mark, Touch } from './finding.js';

/** A place and the name of what stands there: `mark(leg, 'cam-3/video leg 1', 'group')`. */
export function mark(entity: Entity, label: string, key?: string, item?: number): Mark<never> {
  return { place: placeOf(entity, key, item), label, of: entity };
}

/** The same place with a note, which the rule's words turn into a label. */
export function noted<const Note>(mark: Mark<never>, note: Note): Mark<Note> {
  return { ...mark, note };
}

/** Where a leg's source is written: on the leg, or as the address of its interface. */
export function sourceMark(leg: Leg, label: string): Mark<never> {
  const { interface: via, source } = leg;
  if (via === undefined || leg.sourceStated || source === undefined) return mark(leg, label, 'source');
  return mark(via, label, isIPv4(source) ? 'address' : 'address6');
}

/** What the crew touches to change a stream: its device, or the stream itself when no device is known. */
export function touchOf(sender: Sender): Touch {
  return sender.device === undefined
    ? { kind: 'stream', name: sender.label }
    : { kind: 'device', name: sender.device.name };
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
export function otherPlaces<Note>(at: Mark, marks: readonly Mark<Note>[]): readonly Mark<Note>[] {
  const seen = new Map<object, Set<string | number | undefined>>([[at.place.container, new Set([at.place.key])]]);
  return marks.filter(({ place: { container, key } }) => {
    const keys = seen.get(container);
    if (keys === undefined) seen.set(container, new Set([key]));
    else if (keys.has(key)) return false;
    else keys.add(key);
    return true;
  });
}
