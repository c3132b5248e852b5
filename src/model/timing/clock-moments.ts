/**
 * What clocks do one after another when something is lost, from runs in time alone: who hears its master no more, who leads
 * for a while, who in the end, who follows it from when, and who is locked.
 */
import { append, groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Span } from '../../values/span.js';
import { outward } from './timed/outward.js';
import { joined, mergeInterims, type LossTimes, type Settled } from './timed/spans.js';
import type { Standing } from './timed/after-loss.js';
import type { Clock, Loss, Outcome, TimingState } from './timing.js';

/** A clock with seconds after the loss; undefined where no start that was tried showed it, or starts end differently. */
export interface ClockWhen {
  readonly clock: Clock;
  readonly at: Span | undefined;
}

/**
 * Seconds after the last Announce of what is lost, or after the loss where nothing falls silent. `at` of several clocks is
 * from the first of them to the last; undefined where it is not known of one.
 */
export type ClockMoment =
  /** A clock has lost its reference, or has it again, and says so. */
  | { readonly kind: 'class changes'; readonly clock: Clock; readonly clockClass: number; readonly at: Span }
  /** Clocks hear whom they followed no more, or cease to follow it. */
  | {
      readonly kind: 'master lost';
      readonly master: Clock;
      readonly clocks: readonly Clock[];
      readonly at: Span | undefined;
    }
  /**
   * Clocks follow for a while one that is not their last: on its own time, mostly. `isGone`: its words alone are left, and
   * come by another path.
   */
  | {
      readonly kind: 'leads meanwhile';
      readonly clock: Clock;
      readonly isGone: boolean;
      readonly followers: readonly Clock[];
      readonly at: Span;
      /** How long one of them does at most, in seconds. */
      readonly longestS: number;
    }
  /** A clock that led nobody first announces itself. */
  | { readonly kind: 'leads'; readonly clock: Clock; readonly at: Span | undefined }
  /** Clocks have whom they keep. `anew`: another grandmaster than before, and not only another way to it. */
  | {
      readonly kind: 'has master';
      readonly grandmaster: Clock;
      readonly anew: boolean;
      readonly clocks: readonly ClockWhen[];
      readonly at: Span | undefined;
    }
  /** Clocks that followed keep their own time, or none. */
  | { readonly kind: 'left alone'; readonly clocks: readonly ClockWhen[]; readonly at: Span | undefined }
  /** Clocks are locked to whom they have chosen, where the plan states how long each needs. */
  | { readonly kind: 'locked'; readonly clocks: readonly ClockWhen[]; readonly at: Span | undefined }
  /** The plan does not say how long these need to lock. */
  | { readonly kind: 'lock unstated'; readonly clocks: readonly Clock[]; readonly at: undefined }
  /** Announces of what is lost go round in a ring, for up to so long. */
  | { readonly kind: 'circling'; readonly at: Span };

/** How clocks stood before. */
export type Before = Pick<TimingState, 'outcomeOf' | 'clockOf' | 'clockRoleOf'>;

export interface MomentsOf {
  readonly before: Before;
  /** The clocks that were played through, those that are gone among them. */
  readonly standing: Standing;
  readonly times: LossTimes<Clock>;
  /** Where a clock ends by the election without what is lost, where runs end differently. */
  readonly electedFor: (clock: Clock) => Settled<Clock>;
}

const AT_ONCE: Span = { fromS: 0, toS: 0 };

/** In the order of their kinds; a timeline puts them in the order of time. */
export function clockMoments(
  { owners, classes }: Loss,
  { before: whole, standing, times, electedFor }: MomentsOf,
): readonly ClockMoment[] {
  const left = standing.clocks.filter(({ owner }) => owners?.has(owner) !== true);
  const changed = left.filter((clock) => times.chosen(clock) !== undefined);
  const ends = new Map(left.map((clock) => [clock, times.ends(clock) ?? electedFor(clock)]));
  const followed = new Set(
    [...ends.values()].flatMap(({ parent, grandmaster }) => (parent === undefined ? [] : grandmaster)),
  );
  const masters = new Map<Clock, Clock[]>();
  const alone: Clock[] = [];
  const leading: Clock[] = [];
  const followers = new Map<Clock, { readonly anew: Clock[]; readonly back: Clock[] }>();
  for (const [clock, { parent, grandmaster }] of ends) {
    const before = whole.outcomeOf(clock);
    const isChanged = times.chosen(clock) !== undefined;
    if (before?.parent !== undefined && isChanged && isCutOff(before, owners, standing))
      append(masters, before.parent.clock, clock);
    if (parent !== undefined) {
      if (!isChanged) continue;
      const own = kept(followers, grandmaster, () => ({ anew: [], back: [] }));
      own[before?.parent !== undefined && before.grandmaster === grandmaster ? 'back' : 'anew'].push(clock);
    } else if (followed.has(clock)) {
      if (isChanged || whole.clockRoleOf(clock) !== 'leads') leading.push(clock);
    } else if (before?.parent !== undefined && isChanged) alone.push(clock);
  }
  const chosen = (list: readonly Clock[]): readonly ClockWhen[] =>
    list.map((clock) => ({ clock, at: said(times.ends(clock) && times.chosen(clock), clock) }));
  const following = [...followers].flatMap(([grandmaster, { anew, back }]): readonly ClockMoment[] =>
    (
      [
        [anew, true],
        [back, false],
      ] as const
    ).flatMap(([list, isNew]) => {
      const clocks = chosen(list);
      return list.length === 0 ? [] : [{ kind: 'has master', grandmaster, anew: isNew, clocks, at: together(clocks) }];
    }),
  );
  const final = chosen([...followers.values()].flatMap(({ anew, back }) => [...anew, ...back]));
  const aloneAt = chosen(alone);
  return [
    ...[...(classes ?? [])].flatMap(([owner, clockClass]): readonly ClockMoment[] => {
      const clock = whole.clockOf(owner);
      return clock === undefined ? [] : [{ kind: 'class changes', clock, clockClass, at: AT_ONCE }];
    }),
    ...[...masters].map(([master, clocks]): ClockMoment => {
      const at = together(clocks.map((clock) => ({ clock, at: said(times.leaves(clock), clock) })));
      return { kind: 'master lost', master, clocks, at };
    }),
    ...meanwhile(changed, times, owners),
    ...leading.map((clock): ClockMoment => ({ kind: 'leads', clock, at: said(times.speaks(clock), clock) })),
    ...following,
    ...(alone.length === 0 ? [] : [{ kind: 'left alone' as const, clocks: aloneAt, at: together(aloneAt) }]),
    ...locks(final),
    ...(times.circlingS === undefined ? [] : [{ kind: 'circling' as const, at: { fromS: 0, toS: times.circlingS } }]),
  ];
}

/** Where a clock ends by an election, in clocks of the whole plan. */
export function endIn(state: TimingState, clock: Clock, whole: TimingState): Settled<Clock> {
  const standing = state.clockOf(clock.owner);
  const outcome = standing === undefined ? undefined : state.outcomeOf(standing);
  if (outcome?.parent === undefined) return { parent: undefined, grandmaster: clock };
  const wholeClock = (one: Clock): Clock => whole.clockOf(one.owner) ?? one;
  return { parent: wholeClock(outcome.parent.clock), grandmaster: wholeClock(outcome.grandmaster) };
}

/** Whether a clock hears whom it followed no more. */
function isCutOff({ clock, parent }: Outcome, owners: Loss['owners'], { pathOf }: Standing): boolean {
  if (parent === undefined) return false;
  const [through, from] = [clock.ports[parent.through], parent.clock.ports[parent.port]];
  if (through === undefined || from === undefined || owners?.has(parent.clock.owner) === true) return true;
  const path = pathOf(through);
  return path === undefined || path !== pathOf(from);
}

/** Who leads for a while, with those that follow it then. */
function meanwhile(changed: readonly Clock[], times: LossTimes<Clock>, owners: Loss['owners']): readonly ClockMoment[] {
  const all = changed.flatMap((clock) => times.between(clock).map((interim) => ({ clock, interim })));
  return [...groupBy(all, ({ interim }) => interim.grandmaster)].flatMap(([clock, list]): readonly ClockMoment[] => {
    const [merged] = mergeInterims(list.map(({ interim }) => interim));
    const at = said(merged?.since, clock);
    if (merged === undefined || at === undefined) return [];
    const followers = list.map((one) => one.clock);
    const isGone = owners?.has(clock.owner) === true;
    return [{ kind: 'leads meanwhile', clock, isGone, followers, at, longestS: merged.longestS }];
  });
}

function locks(final: readonly ClockWhen[]): readonly ClockMoment[] {
  const unstated = final.flatMap(({ clock }) => (clock.settings.settleS === undefined ? [clock] : []));
  const clocks = final.flatMap(({ clock, at }): readonly ClockWhen[] => {
    const { settleS } = clock.settings;
    if (settleS === undefined) return [];
    return [{ clock, at: at && { fromS: at.fromS + settleS, toS: at.toS + settleS } }];
  });
  return [
    ...(clocks.length === 0 ? [] : [{ kind: 'locked' as const, clocks, at: together(clocks) }]),
    ...(unstated.length === 0 ? [] : [{ kind: 'lock unstated' as const, clocks: unstated, at: undefined }]),
  ];
}

function said(span: Span | undefined, clock: Clock): Span | undefined {
  return span && outward(span, clock);
}

/** From the first to the last. */
function together(list: readonly ClockWhen[]): Span | undefined {
  const spans = list.flatMap(({ at }) => at ?? []);
  return spans.length === 0 || spans.length < list.length ? undefined : joined(spans);
}
