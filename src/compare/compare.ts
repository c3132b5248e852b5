/** What lies between two plans, in steps a crew can do. */
import { addTo } from '../collections/group-by.js';
import type { Network, Plan } from '../plan/types.js';
import { clockSteps } from './compare-clocks.js';
import { deviceSteps } from './compare-devices.js';
import { paperSteps } from './compare-paper.js';
import { receiverSteps } from './compare-receivers.js';
import { linkOffsetSteps } from './compare-sound.js';
import { moved, streamSteps } from './compare-streams.js';
import { linkSteps, switchSteps } from './compare-switches.js';
import { vlanSteps } from './compare-vlans.js';
import { createContext, type Context } from './context.js';
import type { Box, ChangeSummary, Comparison, Step, StepNetwork } from './steps.js';

/**
 * Compares two revisions of a plan, or rigs before and after new numbers. Things are matched by rig and name, renamed
 * devices and switches by MAC address or else by all their addresses. Descriptions of streams the plan has are not compared.
 */
export function comparePlans(before: Plan, after: Plan): Comparison {
  const context = createContext(before, after);
  const receivers = receiverSteps(context);
  const steps = [
    ...vlanSteps(context),
    ...switchSteps(context),
    ...linkSteps(context),
    ...clockSteps(context),
    ...deviceSteps(context),
    ...streamSteps(context),
    ...linkOffsetSteps(context),
    ...receivers.steps,
    ...paperSteps(context),
  ];
  return { steps, summary: summaryOf(steps, receivers.affected, context), networks: networksOf(context) };
}

function summaryOf(steps: readonly Step[], receiversAffected: number, { pairing }: Context): ChangeSummary {
  const { senders, devices } = pairing;
  const streamsOf = (list: typeof devices.gone): number => list.reduce((sum, one) => sum + one.senders.length, 0);
  return {
    streamsReaddressed: senders.both.filter(
      ([old, now]) =>
        old.legs.length !== now.legs.length ||
        old.legs.some((leg, index) => {
          const other = now.legs[index];
          return other !== undefined && moved(leg, other);
        }),
    ).length,
    streamsNew: senders.fresh.length + streamsOf(devices.fresh),
    streamsGone: senders.gone.length + streamsOf(devices.gone),
    devicesNew: devices.fresh.length,
    devicesGone: devices.gone.length,
    devicesRenamed: devices.both.filter(([old, now]) => old.name !== now.name).length,
    devicesToTouch: countBoxes(steps, 'device'),
    switchesToTouch: countBoxes(steps, 'switch'),
    receiversAffected,
    onPaper: steps.filter(({ box }) => box.kind === 'plan').length,
  };
}

/** By rig and name. */
function countBoxes(steps: readonly Step[], kind: Box['kind']): number {
  const byRig = new Map<string, Set<string>>();
  for (const { rig, box } of steps) if (box.kind === kind) addTo(byRig, rig, box.name);
  return [...byRig.values()].reduce((sum, names) => sum + names.size, 0);
}

/** Those of the new plan, then those only the old one has. */
function networksOf({ after, pairing }: Context): readonly StepNetwork[] {
  const plain = ({ rig, name, role, leg }: Network): StepNetwork => ({ rig: rig.name, name, role, leg });
  return [...after.networks.map(plain), ...pairing.networks.gone.map(plain)];
}
