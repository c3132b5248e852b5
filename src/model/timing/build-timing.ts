/** The timing model as rules and reports see it; each part is computed on first use. */
import { once } from '../../collections/once.js';
import type { Plan } from '../../plan/types.js';
import type { Domains } from '../vlans/index.js';
import { findBarriers, type Barriers } from './barriers.js';
import { buildClockLoads, type ClockLoad } from './clock-load.js';
import type { ClockFacts } from './clocks.js';
import { createConcerned } from './concerned.js';
import { buildFailover, loseNow, type LossResult, type NamedLoss } from './failover.js';
import type { ClockMoment } from './clock-moments.js';
import { momentsBehind, type Opening } from './in-time.js';
import { momentsOfReturn } from './returned.js';
import { announceTolerance, type AnnounceTolerance } from './takeover-time.js';
import { buildTimingBase, timingWithout, type Clock, type TimingState } from './timing.js';

export interface Timing extends TimingState {
  /** Every device and switch that states PTP, transparent clocks too. */
  readonly facts: readonly ClockFacts[];
  /** Losses that change who follows whom. */
  readonly failover: readonly LossResult[];
  /** What one loss does. */
  readonly without: (lost: NamedLoss) => LossResult;
  /** Boundary clocks that keep the time of those meant to lead from others. */
  readonly barriers: Barriers;
  /** What clocks do after one loss while links open late; undefined where nothing tells. */
  readonly momentsBehind: (lost: NamedLoss, opening: Opening) => readonly ClockMoment[] | undefined;
  /** What clocks do when something comes back after all have settled without it: seconds after its return. */
  readonly returned: (lost: NamedLoss) => readonly ClockMoment[];
  /** What each clock that is followed has to serve. */
  readonly loads: readonly ClockLoad[];
  /** Followers that give up, or may miss no Announce, between two of their parent's. */
  readonly impatient: readonly Impatient[];
  /** Followers whose delay mechanism is not their parent's: they follow, and never finish measuring. */
  readonly delayMismatches: readonly FollowerPair[];
}

export interface FollowerPair {
  readonly follower: Clock;
  readonly parent: Clock;
}

export interface Impatient extends FollowerPair {
  readonly tolerance: Exclude<AnnounceTolerance, 'fine'>;
}

export function buildTiming(plan: Plan, domains: Domains): Timing {
  const base = buildTimingBase(plan, domains);
  const whole = timingWithout(base);
  const concerned = once(() => createConcerned(base, whole));
  const failover = once(() => buildFailover(plan, base, whole, concerned()));
  const barriers = once(() => findBarriers(plan, whole));
  const loads = once(() => buildClockLoads(whole));
  const pairs = once(() => pairsOf(whole));
  return {
    ...whole,
    facts: base.facts,
    without: (lost) => loseNow(lost, base, whole, concerned()),
    momentsBehind: (lost, opening) => momentsBehind(lost, opening, base, whole),
    returned: (lost) => momentsOfReturn(lost, base, whole),
    get failover() {
      return failover();
    },
    get barriers() {
      return barriers();
    },
    get loads() {
      return loads();
    },
    get impatient() {
      return pairs().flatMap(({ follower, parent }): readonly Impatient[] => {
        const tolerance = announceTolerance(parent.logAnnounceInterval, follower);
        return tolerance === 'fine' ? [] : [{ follower, parent, tolerance }];
      });
    },
    get delayMismatches() {
      return pairs().filter(({ follower, parent }) => follower.delayMechanism !== parent.delayMechanism);
    },
  };
}

function pairsOf(state: TimingState): readonly FollowerPair[] {
  return state.clocks.flatMap((follower): readonly FollowerPair[] => {
    const parent = state.outcomeOf(follower)?.parent?.clock;
    return parent === undefined ? [] : [{ follower, parent }];
  });
}
