/** Where streams and receivers with one leg have it written: once for all devices of a kind, or each for itself. */
import { kindThatWrites } from '../model/written/index.js';
import type { Device, Kind, Leg, Receiver, ReceiverLeg, Sender } from '../plan/types.js';
import type { Mark } from './finding.js';
import { inRig } from './leg-sets.js';
import { mark, noted } from './marks.js';

/** The place of an only leg. */
export interface OnlyLeg {
  /** The kind that writes it for all its devices; undefined where the device's own entry does. */
  readonly kind: Kind | undefined;
  readonly mark: Mark<'one leg'>;
}

export function onlyLeg(owner: Sender | Receiver, leg: Leg | ReceiverLeg): OnlyLeg {
  const { device, label, origin } = owner;
  // A receiver's leg that is not written out stands where its receiver does.
  const key = 'takes' in owner && leg.origin.container === origin.container ? 'interfaces' : 'legs';
  const kind = key === 'legs' ? kindThatWrites(leg, device, 'interface') : kindThatWrites(owner, device, 'interfaces');
  const place = key === 'legs' && kind !== undefined ? mark(leg, label, 'interface') : mark(owner, label, key);
  return { kind, mark: noted(place, 'one leg') };
}

/** `kind screen in rig Heron`, or the device where no kind writes the fault for all of its own. */
export function causeOf(kind: Kind | undefined, { name, rig }: Device): string {
  return `${kind === undefined ? name : `kind ${kind.name}`}${inRig(rig)}`;
}
