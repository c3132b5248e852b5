/** The link offset: one number of the plan, set at every device that takes sound (AES67-2018 §7.5). */
import type { Device, Plan, Rig } from '../plan/types.js';
import type { Context } from './context.js';
import { factSteps, type StepPlace } from './facts.js';
import type { Step } from './steps.js';
import { timeText } from './values.js';

export function linkOffsetSteps({ before, after, pairing }: Context): readonly Step[] {
  const offsets = (plan: Plan): ReadonlyMap<string, string | undefined> =>
    new Map(plan.mediaTimings.map((one) => [pairing.rigKey(one.rig), timeText(one.linkOffsetNs)]));
  const old = offsets(before);
  const now = offsets(after);
  const changed = after.rigs.filter((rig) => old.get(pairing.rigKey(rig)) !== now.get(pairing.rigKey(rig)));
  if (changed.length === 0) return [];
  const devices = new Map<Rig, Device[]>(changed.map((rig) => [rig, []]));
  for (const device of after.devices) if (takesSound(device)) devices.get(device.rig)?.push(device);
  return changed.flatMap((rig) => {
    const facts = (of: ReadonlyMap<string, string | undefined>): Record<string, string | undefined> => ({
      'link offset': of.get(pairing.rigKey(rig)),
    });
    const places = (devices.get(rig) ?? []).map(devicePlace);
    const paper: StepPlace = { rig: rig.name, box: { kind: 'plan', name: 'timing' }, part: 'paper' };
    return (places.length > 0 ? places : [paper]).flatMap((place) => factSteps(place, facts(old), facts(now)));
  });
}

function takesSound({ receivers }: Device): boolean {
  return receivers.some(
    ({ format, takes }) => (format?.essence ?? takes?.essence ?? takes?.format?.essence) === 'audio',
  );
}

function devicePlace(device: Device): StepPlace {
  return {
    rig: device.rig.name,
    box: { kind: 'device', name: device.name },
    at: 'sound inputs',
    part: 'receivers',
  };
}
