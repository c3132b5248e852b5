/**
 * What a finding does to the show: which receivers get nothing because of it, which lose a leg, and what becomes of the
 * others.
 */
import type { Receiver } from '../plan/types.js';

/**
 * What the faults of a rule do where every leg gets to its receivers. `spoils`: what arrives is not fit for air, now or as
 * soon as all is switched on. `exposes`: one failure takes all legs. `unicast`: control, monitoring and other unicast of hosts
 * suffers, multicast goes on. `others`: the same where every receiver was followed, and not known where one was not. `later`: nothing until something else happens, and then. `paper`: nothing, the plan is hard to
 * read or to build on.
 */
export const HARMS = ['spoils', 'exposes', 'unicast', 'others', 'later', 'paper'] as const;
export type Harm = (typeof HARMS)[number];

/** The worst a finding does, worst first. What was not followed ranks above what is known to hurt later only. */
export const EFFECTS = [
  'dark',
  'behind',
  'doubtful',
  'spoiled',
  'weakened',
  'unknown',
  'unicast',
  'later',
  'paper',
] as const;
export type EffectKind = (typeof EFFECTS)[number];

export interface Effect {
  readonly kind: EffectKind;
  /** Receivers that get nothing: no leg of theirs arrives, and this finding is why for one of them at least. */
  readonly dark: readonly Receiver[];
  /** Receivers that another finding leaves with nothing, and whose legs this one is in the way of too. */
  readonly behind: readonly Receiver[];
  /** Receivers that lose a leg by it, while nobody can tell whether another arrives. */
  readonly doubtful: readonly Receiver[];
  /** Receivers that get something that is not fit for air; undefined where it is not known which. */
  readonly spoiled: readonly Receiver[] | undefined;
  /** Receivers that lose a leg by it and have another, or whose legs one failure takes; undefined where not known which. */
  readonly weakened: readonly Receiver[] | undefined;
}
