/** Families of frame rates: rates within one are multiples of each other, between two a converter is needed. */
import type { Format, Plan, Rig, Sender } from '../../plan/types.js';

export type FrameFamily = '50' | '59.94' | '60' | '24' | '23.98';

export interface RigFamilies {
  readonly rig: Rig;
  readonly senders: ReadonlyMap<FrameFamily, readonly Sender[]>;
  /** Whether some device takes one family and sends another. */
  readonly converts: boolean;
}

/** Rigs whose streams are of more than one family. */
export function frameFamilies(plan: Plan): readonly RigFamilies[] {
  const byRig = new Map<Rig, Map<FrameFamily, Sender[]>>();
  for (const sender of plan.senders) {
    const family = familyOf(sender.format);
    if (family === undefined) continue;
    let families = byRig.get(sender.rig);
    if (families === undefined) byRig.set(sender.rig, (families = new Map<FrameFamily, Sender[]>()));
    const list = families.get(family);
    if (list === undefined) families.set(family, [sender]);
    else list.push(sender);
  }
  return [...byRig].flatMap(([rig, senders]) =>
    senders.size < 2 ? [] : [{ rig, senders, converts: hasConverter(plan, rig) }],
  );
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
