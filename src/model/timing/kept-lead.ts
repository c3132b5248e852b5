/** Grandmasters that keep the lead when they lose their reference: priority1 is compared before the class (IEEE 1588-2008 §9.3.4). */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { compareQualities } from './bmca.js';
import { classesAfterLoss, LOCKED_CLASS } from './clock-quality.js';
import { clocksByName } from './clocks-by-name.js';
import { intendedLeaders, isTraceable } from './intent.js';
import type { Clock, Island } from './timing.js';

export interface KeptLead {
  readonly leader: Clock;
  /** Classes it steps down to, the last one last. */
  readonly classes: readonly number[];
  /** Of the same rig, with a reference, and behind it whatever its class is; by name. */
  readonly better: NonEmpty<Clock>;
  /** How many clocks keep its time. */
  readonly followers: number;
}

/** Undefined where nobody leads that has a reference, or where one with a reference takes over. */
export function keptLead(island: Island): KeptLead | undefined {
  const [first] = island.leaders.filter(({ followers }) => followers > 0);
  if (first === undefined || !first.clock.meantToLead || !isLocked(first.clock)) return undefined;
  const { clock: leader, followers } = first;
  const classes = classesAfterLoss(leader.quality.clockClass, leader.settings.afterHoldover);
  const last = classes.at(-1);
  if (last === undefined) return undefined;
  const after = { ...leader.quality, clockClass: last };
  const others = intendedLeaders(island).filter((one) => one !== leader && one.rig === leader.rig && isLocked(one));
  const better = clocksByName(others);
  const isKept = others.every(({ quality }) => compareQualities(after, quality).order < 0);
  return isNonEmpty(better) && isKept ? { leader, classes, better, followers } : undefined;
}

/** Not in holdover. */
function isLocked(clock: Clock): boolean {
  return isTraceable(clock) && clock.quality.clockClass === LOCKED_CLASS;
}
