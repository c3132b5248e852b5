/** The delay model as rules and reports see it; each part is computed on first use. */
import { isNonEmpty } from '../../collections/non-empty.js';
import type { Device, LipSync, MediaTiming, Plan, Receiver, Rig, RoundTrip } from '../../plan/types.js';
import type { Network } from '../network/index.js';
import { budgetOf, type Budget, type BudgetContext, type DelayGap } from './budget.js';
import { chainOf, type Chain } from './chain.js';
import { ACCEPTABLE, CONVERSATION_NS, OUTPUT, outside, PLANNING_LIMIT_NS } from './limits.js';

/** What a pair is, as far as the plan tells: `open` where what is missing could make it either. */
export type LipSyncVerdict = 'inside' | 'outside-r37' | 'outside-bt1359' | 'open';

export interface LipSyncDelay {
  readonly pair: LipSync;
  /** Where the two are together. */
  readonly at: Device;
  readonly picture: Chain;
  readonly sound: Chain;
  /** By how much sound comes before the picture, of what is known; minus: after it. */
  readonly leadNs: number;
  /** Gaps that only one of the two has: what both lack alike changes nothing between them. */
  readonly pictureGaps: readonly DelayGap[];
  readonly soundGaps: readonly DelayGap[];
  readonly verdict: LipSyncVerdict;
}

/** One way: below 150 ms, up to 400 ms, above (ITU-T G.114). `open` where what is missing could lift it over a limit. */
export type SpeechVerdict = 'good' | 'slow' | 'too-slow' | 'open';

export interface RoundTripDelay {
  readonly trip: RoundTrip;
  readonly there: Chain;
  readonly back: Chain;
  readonly totalNs: number;
  /** Of the slower way. */
  readonly verdict: SpeechVerdict;
}

export interface Delays {
  /** Every reception of a stream of the plan, in plan order. */
  readonly budgets: readonly Budget[];
  readonly lipSyncs: readonly LipSyncDelay[];
  readonly roundTrips: readonly RoundTripDelay[];
  /** The document that states the link offset of a rig. */
  readonly linkOffsetOf: (rig: Rig) => MediaTiming | undefined;
}

export function buildDelays(plan: Plan, network: Network): Delays {
  const offsets = new Map<Rig, MediaTiming>();
  for (const one of plan.mediaTimings) {
    if (one.linkOffsetNs !== undefined && !offsets.has(one.rig)) offsets.set(one.rig, one);
  }
  const context: BudgetContext = { network, linkOffsetOf: ({ rig }) => offsets.get(rig)?.linkOffsetNs };
  let budgets: readonly Budget[] | undefined;
  return {
    get budgets() {
      return (budgets ??= plan.receivers.flatMap((receiver: Receiver) =>
        receiver.takes === undefined ? [] : [budgetOf(receiver, receiver.takes, context)],
      ));
    },
    lipSyncs: plan.lipSyncs.flatMap((pair) => lipSyncOf(pair, context)),
    roundTrips: plan.roundTrips.flatMap((trip) => roundTripOf(trip, context)),
    linkOffsetOf: (rig) => offsets.get(rig),
  };
}

/** Nothing where a name led nowhere: a rule reports the name. */
function lipSyncOf(pair: LipSync, context: BudgetContext): readonly LipSyncDelay[] {
  const { at } = pair;
  if (at === undefined || !isNonEmpty(pair.picture) || !isNonEmpty(pair.sound)) return [];
  const picture = chainOf(pair.picture, at, context);
  const sound = chainOf(pair.sound, at, context);
  const pictureGaps = without(picture.gaps, sound.gaps);
  const soundGaps = without(sound.gaps, picture.gaps);
  const leadNs = picture.totalNs - sound.totalNs;
  const verdict = lipSyncVerdict(leadNs, pictureGaps.length === 0, soundGaps.length === 0);
  return [{ pair, at, picture, sound, leadNs, pictureGaps, soundGaps, verdict }];
}

/** What lacks in the picture can only make sound earlier; what lacks in the sound only later. */
function lipSyncVerdict(leadNs: number, pictureWhole: boolean, soundWhole: boolean): LipSyncVerdict {
  const certain = (pictureWhole && soundWhole) || (leadNs > 0 ? soundWhole : pictureWhole);
  if (certain && outside(ACCEPTABLE, leadNs)) return 'outside-bt1359';
  if (certain && outside(OUTPUT, leadNs)) return 'outside-r37';
  return pictureWhole && soundWhole ? 'inside' : 'open';
}

function without(gaps: readonly DelayGap[], others: readonly DelayGap[]): readonly DelayGap[] {
  const keys = new Set(others.map(keyOf));
  return gaps.filter((gap) => !keys.has(keyOf(gap)));
}

function keyOf({ lacks, names }: DelayGap): string {
  return JSON.stringify([lacks, names]);
}

function roundTripOf(trip: RoundTrip, context: BudgetContext): readonly RoundTripDelay[] {
  if (!isNonEmpty(trip.there) || !isNonEmpty(trip.back)) return [];
  const near = trip.there[0].device;
  const far = trip.back[0].device;
  if (near === undefined || far === undefined) return [];
  const there = chainOf(trip.there, far, context);
  const back = chainOf(trip.back, near, context);
  return [{ trip, there, back, totalNs: there.totalNs + back.totalNs, verdict: worse(there, back) }];
}

function worse(there: Chain, back: Chain): SpeechVerdict {
  const slower = Math.max(there.totalNs, back.totalNs);
  if (slower > PLANNING_LIMIT_NS) return 'too-slow';
  if (slower > CONVERSATION_NS) return 'slow';
  return there.gaps.length + back.gaps.length > 0 ? 'open' : 'good';
}
