/** Families of frame rates: rates within one are multiples of each other, between two a converter is needed. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Format, Plan, Rig, Sender } from '../../plan/types.js';

export type FrameFamily = '50' | '59.94' | '60' | '24' | '23.98';

export interface RigFamilies {
  readonly rig: Rig;
  /** The slowest family first. */
  readonly families: NonEmpty<readonly [FrameFamily, NonEmpty<Sender>]>;
  /** Whether some device takes one family and sends another. */
  readonly converts: boolean;
}

/** Rigs whose streams are of more than one family. */
export function frameFamilies(plan: Plan): readonly RigFamilies[] {
  const known = plan.senders.filter(({ format }) => familyOf(format) !== undefined);
  return [...groupBy(known, ({ rig }) => rig)].flatMap(([rig, senders]): readonly RigFamilies[] => {
    const families = byLabel([...groupBy(senders, ({ format }) => familyOf(format))], ([family]) => family);
    return families.length > 1 && isNonEmpty(families) ? [{ rig, families, converts: hasConverter(plan, rig) }] : [];
  });
}

function hasConverter(plan: Plan, rig: Rig): boolean {
  return plan.devices.some((device) => {
    if (device.rig !== rig) return false;
    const taken = new Set(device.receivers.flatMap(({ takes }) => familyOf(takes?.format) ?? []));
    const sent = new Set(device.senders.flatMap(({ format }) => familyOf(format) ?? []));
    return [...taken].some((one) => [...sent].some((other) => other !== one));
  });
}

/** Of pictures only: data follows the picture it belongs to. */
function familyOf(format: Format | undefined): FrameFamily | undefined {
  if (format?.essence !== 'video' || format.frameRate === undefined) return undefined;
  const [frames, seconds] = format.frameRate;
  const rate = frames / seconds;
  if (seconds === 1001)
    return isMultiple(frames / 1000, 30) ? '59.94' : isMultiple(frames / 1000, 24) ? '23.98' : undefined;
  if (isMultiple(rate, 25)) return '50';
  if (isMultiple(rate, 30)) return '60';
  return isMultiple(rate, 24) ? '24' : undefined;
}

function isMultiple(rate: number, base: number): boolean {
  return rate > 0 && rate % base === 0;
}
