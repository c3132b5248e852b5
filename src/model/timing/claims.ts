/** What clocks meant to lead say of themselves that misleads those who follow (IEEE 1588-2008 §7.6.2). */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Plan } from '../../plan/types.js';
import { CLOCK_CLASSES, DEFAULT_CLOCK_ACCURACY } from './clock-quality.js';
import { clocksByName } from './clocks-by-name.js';
import { intendedLeaders, isTraceable, isUntraceable } from './intent.js';
import type { Clock, Island } from './timing.js';

/**
 * `untraceable`: the class of a primary reference, and stated as not traceable. `own epoch`: locked to a reference of the
 * application, which has no time of day, where media count from the epoch of PTP. `accuracy`: locked, and stated as unknown.
 */
export type ClaimFault = 'untraceable' | 'own epoch' | 'accuracy';

export interface MisleadingClaim {
  readonly fault: ClaimFault;
  /** By name. */
  readonly clocks: NonEmpty<Clock>;
  /** Whether the profile of one demands what is missing. */
  readonly isDemanded: boolean;
}

export function misleadingClaims(plan: Plan, island: Island): readonly MisleadingClaim[] {
  const meant = intendedLeaders(island);
  const faults: readonly (readonly [ClaimFault, readonly Clock[]])[] = [
    ['untraceable', hasLeftToBackup(meant) ? [] : meant.filter(isContradictory)],
    ['own epoch', countsFromEpoch(plan, island) ? meant.filter(hasOwnEpoch) : []],
    ['accuracy', meant.filter(isVague)],
  ];
  return faults.flatMap(([fault, found]): readonly MisleadingClaim[] => {
    const clocks = clocksByName(found);
    return isNonEmpty(clocks) ? [{ fault, clocks, isDemanded: clocks.some(isForMedia) }] : [];
  });
}

/** The leader is sound and no other is: `timing/worse-backup`. */
function hasLeftToBackup([main, ...rest]: readonly Clock[]): boolean {
  return main !== undefined && isTraceable(main) && rest.every(isUntraceable);
}

function isContradictory({ settings, quality }: Clock): boolean {
  return settings.traceable === false && (quality.clockClass === 6 || quality.clockClass === 7);
}

function hasOwnEpoch({ quality }: Clock): boolean {
  return CLOCK_CLASSES.some(({ value, timescale }) => timescale === 'ARB' && value === quality.clockClass);
}

/** Stated so; a clock that states none is what its maker made of it. */
function isVague({ settings, quality, assumed }: Clock): boolean {
  return (
    settings.clockAccuracy === DEFAULT_CLOCK_ACCURACY &&
    !assumed.has('clockClass') &&
    (quality.clockClass === 6 || quality.clockClass === 7)
  );
}

function isForMedia({ profile }: Clock): boolean {
  return profile?.key.startsWith('st2059-2') === true || profile?.key === 'aes-r16';
}

/** A media profile, or streams of the rig whose time stamps count from the epoch (ST 2110-10, AES67). */
function countsFromEpoch(plan: Plan, { clocks }: Island): boolean {
  if (clocks.some(({ profile }) => profile !== undefined && !profile.key.startsWith('ieee1588'))) return true;
  const owners = new Set<object>(clocks.map(({ owner }) => owner));
  return plan.senders.some(
    ({ device, format }) =>
      device !== undefined && owners.has(device) && /^(?:st2110|aes67)/.test(format?.coding ?? ''),
  );
}
