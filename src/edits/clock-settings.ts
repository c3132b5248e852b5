/** PTP settings of clocks, where they are written: at the box, or once in the kind where all its devices are meant. */
import type { Device, PtpSettings, Switch } from '../plan/types.js';
import type { Model } from '../model/model.js';
import type { EditList } from './edit-list.js';
import type { EditValue } from './entry.js';

/** A clock, as far as its settings go. */
export interface ClockLike {
  readonly owner: Device | Switch;
  readonly settings: PtpSettings;
}

/** The same settings for each clock; other devices of a kind keep what it says. */
export function setClocks(
  { plan }: Pick<Model, 'plan'>,
  edits: EditList,
  clocks: readonly ClockLike[],
  changes: Readonly<Record<string, EditValue>>,
): void {
  const owners = new Set<Device | Switch>(clocks.map(({ owner }) => owner));
  for (const { owner, settings } of clocks) {
    const { origin } = settings;
    const own = (owner.origin.container as { readonly ptp?: object }).ptp;
    const ofKind = origin.base ?? (own === undefined ? origin : undefined);
    const alike = ofKind === undefined ? [] : plan.devices.filter(({ ptp }) => isFrom(ptp, ofKind.container));
    // Where all devices of the kind change and none says otherwise, the kind does.
    const together = ofKind !== undefined && alike.length > 1 && alike.every((one) => owners.has(one));
    for (const [key, value] of Object.entries(changes)) {
      const isOwn = own !== undefined && (Object.hasOwn(own, key) || !together);
      if (isOwn) edits.put({ document: origin.document, container: own, key }, value);
      else if (together) edits.put({ document: ofKind.document, container: ofKind.container, key }, value);
    }
    if (own === undefined && !together) edits.set(owner, 'ptp', { ...changes });
  }
}

function isFrom(ptp: PtpSettings | undefined, container: object): boolean {
  return ptp !== undefined && (ptp.origin.container === container || ptp.origin.base?.container === container);
}
