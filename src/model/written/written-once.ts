/** Faults written once and inherited by many: what a device kind states is one cause, however many devices have it. */
import { placeOf } from '../../plan/place.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Device, Entity, Kind, Leg, Sender } from '../../plan/types.js';

export interface WrittenOnce {
  /** `cam-1/video`, or `kind stage-box/mics` where the kind states it for every device. */
  readonly subject: string;
  /** The kind that states it, when one does. */
  readonly kind: Kind | undefined;
  /** Every sender that has the fault. */
  readonly senders: NonEmpty<Sender>;
  /** One leg for each place to change. */
  readonly legs: NonEmpty<Leg>;
}

/** Faulty legs, joined by sender, or by the kind that gives its devices the faulty value of `key`. */
export function writtenOnce(faulty: readonly Leg[], key: string): readonly WrittenOnce[] {
  const found = new Map<Sender | string, { kind: Kind | undefined; senders: Set<Sender>; legs: Map<object, Leg> }>();
  for (const leg of faulty) {
    const entry = placeOf(leg, key).container;
    const kind = kindThatWrites(leg, leg.sender.device, key);
    const cause = kind === undefined ? leg.sender : `${kind.rig.name}/${kind.name}/${leg.sender.name}`;
    let one = found.get(cause);
    if (one === undefined) found.set(cause, (one = { kind, senders: new Set(), legs: new Map() }));
    one.senders.add(leg.sender);
    if (!one.legs.has(entry)) one.legs.set(entry, leg);
  }
  return [...found.values()].flatMap((one): readonly WrittenOnce[] => {
    const { kind } = one;
    const senders = [...one.senders];
    const legs = [...one.legs.values()];
    if (!isNonEmpty(senders) || !isNonEmpty(legs)) return [];
    const [first] = senders;
    return [{ subject: kind === undefined ? first.label : `kind ${kind.name}/${first.name}`, kind, senders, legs }];
  });
}

/** The kind an interface, sender, receiver or leg of a device takes `key` from; undefined when the device states it itself. */
export function kindThatWrites(entity: Entity, device: Device | undefined, key: string): Kind | undefined {
  const base = device?.origin.base;
  if (base === undefined) return undefined;
  const entry = placeOf(entity, key).container;
  const { interfaces = [], senders = [], receivers = [] } = base.container as RawKind;
  const written =
    interfaces.includes(entry) ||
    [...senders, ...receivers].some((one) => one === entry || one.legs?.includes(entry) === true);
  return written ? device?.kind : undefined;
}

interface RawKind {
  readonly interfaces?: readonly object[];
  readonly senders?: readonly RawFlow[];
  readonly receivers?: readonly RawFlow[];
}

interface RawFlow {
  readonly legs?: readonly object[];
}
