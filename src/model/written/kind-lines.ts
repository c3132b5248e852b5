/** What many devices have from one line of their kind: one cause, however many devices it makes faulty. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { once } from '../../collections/once.js';
import { placeOf } from '../../plan/place.js';
import type { Device, Entity, Interface, Kind, Plan } from '../../plan/types.js';
import { kindThatWrites } from './written-once.js';

/** Things that have a value of `key` from the same line. */
export interface KindLine<T> {
  /** The kind that writes it; undefined where a device, stream or receiver says it itself. */
  readonly kind: Kind | undefined;
  readonly things: NonEmpty<T>;
}

/** Faulty things by the line that says their value of `key`, in order of first appearance. */
export function byLine<T extends Entity>(
  faulty: Iterable<T>,
  deviceOf: (thing: T) => Device | undefined,
  key: string,
): readonly KindLine<T>[] {
  const lines = new Map<object, { readonly kind: Kind | undefined; readonly things: T[] }>();
  const alone: KindLine<T>[] = [];
  for (const thing of faulty) {
    const place = placeOf(thing, key);
    // What writes nothing has it from elsewhere: each stands for itself.
    if (place.key === undefined) {
      alone.push({ kind: undefined, things: [thing] });
      continue;
    }
    const known = lines.get(place.container);
    if (known === undefined)
      lines.set(place.container, { kind: kindThatWrites(thing, deviceOf(thing), key), things: [thing] });
    else known.things.push(thing);
  }
  return [
    ...[...lines.values()].flatMap(({ kind, things }) => (isNonEmpty(things) ? [{ kind, things }] : [])),
    ...alone,
  ];
}

/** How many interfaces that `counts` have their value of `key` from the line that an interface has it from. */
export function createLineUsers(
  { devices }: Plan,
  key: string,
  counts: (one: Interface) => boolean,
): (one: Interface) => number {
  const ofKinds = once(() => groupBy(devices, ({ kind }) => kind));
  const known = new Map<Kind, Map<object, number>>();
  return (one) => {
    const { kind } = one.device;
    if (kind === undefined) return 1;
    const ofKind = kept(known, kind, () => {
      const lines = new Map<object, number>();
      for (const { interfaces } of ofKinds().get(kind) ?? [])
        for (const its of interfaces) {
          if (!counts(its)) continue;
          const { container } = placeOf(its, key);
          lines.set(container, (lines.get(container) ?? 0) + 1);
        }
      return lines;
    });
    return ofKind.get(placeOf(one, key).container) ?? 1;
  };
}
