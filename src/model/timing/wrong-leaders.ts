/** Clocks that lead an island and should not (IEEE 1588-2008 §9.3.3 and §9.3.4). */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { advantageOf, type Advantage } from './advantage.js';
import { compareQualities } from './bmca.js';
import type { Timing } from './build-timing.js';
import { neverFollows } from './clock-quality.js';
import { clocksByName } from './clocks-by-name.js';
import { intendedLeaders, outrankedBy } from './intent.js';
import type { Clock, Island } from './timing.js';

/** Why a clock leads that is not meant to; `class`: of its class none follows, `reach`: the better one is not heard. */
export type Victory = Advantage | { readonly by: 'class'; readonly clockClass: number } | { readonly by: 'reach' };

export interface UnintendedLeader {
  readonly form: 'unintended';
  readonly leader: Clock;
  readonly followers: number;
  /** The best of those meant to lead. */
  readonly intended: Clock;
  readonly victory: Victory;
  /** Others lead another part of the island. */
  readonly isSplit: boolean;
}

/** A grandmaster that leads on its priority1 alone, while others with a reference stand by. */
export interface LeaderWithoutReference {
  readonly form: 'no reference';
  readonly leader: Clock;
  readonly followers: number;
  /** By name. */
  readonly better: NonEmpty<Clock>;
}

/** Without those that a boundary clock keeps from a better one: `timing/boundary-clock-blocks`. */
export function wrongLeaders(
  island: Island,
  { barriers }: Pick<Timing, 'barriers'>,
): readonly (UnintendedLeader | LeaderWithoutReference)[] {
  const [intended] = intendedLeaders(island);
  if (intended === undefined) return [];
  const followed = island.leaders.filter(({ followers }) => followers > 0);
  return followed.flatMap(({ clock: leader, followers }): readonly (UnintendedLeader | LeaderWithoutReference)[] => {
    if (leader.meantToLead) {
      const better = clocksByName(outrankedBy(leader, island));
      return isNonEmpty(better) ? [{ form: 'no reference', leader, followers, better }] : [];
    }
    if (barriers.explained.has(leader)) return [];
    const victory = victoryOf(leader, intended);
    const isSplit = followed.length > 1;
    return victory === undefined ? [] : [{ form: 'unintended', leader, followers, intended, victory, isSplit }];
  });
}

function victoryOf(leader: Clock, intended: Clock): Victory | undefined {
  const { order, step } = compareQualities(leader.quality, intended.quality);
  // What the reference of a grandmaster makes of its class is no default: unstated, it decides nothing here.
  if (step !== 'priority1' && intended.assumed.has('clockClass')) return undefined;
  if (order < 0) return advantageOf(leader, intended);
  const { clockClass } = leader.quality;
  return neverFollows(clockClass) ? { by: 'class', clockClass } : { by: 'reach' };
}

/** Key of the settings in which a clock states what gave it a victory or a defeat; undefined where it states none. */
export function keyOfVictory({ by }: Victory, { quality, settings }: Clock): string | undefined {
  if (by === 'class' || by === 'reach') return neverFollows(quality.clockClass) ? 'clockClass' : undefined;
  const key = by === 'identity' || by === 'unstated identity' ? 'clockIdentity' : by;
  return key in settings ? key : undefined;
}
