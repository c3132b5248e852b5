/** What end devices do when those meant to lead are lost (IEEE 1588-2008 §9.2.6.11). */
import { lossOfClocks, type Handover } from './failover.js';
import type { Timing } from './build-timing.js';
import { isEndDevice } from './intent.js';
import type { Clock, Island } from './timing.js';

export interface EndDeviceTakeover extends Pick<Handover, 'to' | 'times'> {
  readonly lost: readonly Clock[];
}

/** The leader's loss first, then that of all meant to lead together. */
export function endDeviceTakeover(
  intended: readonly Clock[],
  island: Island,
  timing: Timing,
): EndDeviceTakeover | undefined {
  const leader = intended.filter((one) => timing.clockRoleOf(one) === 'leads');
  const losses = leader.length === 0 || leader.length === intended.length ? [intended] : [leader, intended];
  const here = new Set(island.clocks);
  for (const lost of losses) {
    const { handovers } = timing.without(lossOfClocks(lost));
    const taken = handovers.filter(({ to }) => here.has(to) && isEndDevice(to));
    const [most] = taken.toSorted(
      (a, b) => b.followers.length - a.followers.length || (a.to.name < b.to.name ? -1 : 1),
    );
    if (most !== undefined) return { lost, to: most.to, times: most.times };
  }
  return undefined;
}
