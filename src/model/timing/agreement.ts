/** Who leads once rigs are joined: what their lists agree on, and what the election makes of it. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Join, Link, Plan, PtpDomain, Rig } from '../../plan/types.js';
import { isOpenBetween } from './advantage.js';
import { compareQualities } from './bmca.js';
import { clocksByName } from './clocks-by-name.js';
import type { ClockOwner } from './clocks.js';
import { intendedLeaders, mayLead, outrankedBy } from './intent.js';
import type { Clock, Island, TimingState } from './timing.js';

/** Lists of grandmasters that name those of several rigs: who leads once these are joined, the intended one first. */
export function agreedLists({ group }: Pick<Island, 'group'>): readonly PtpDomain[] {
  return group.planned.filter(({ grandmasters }) => grandmasters.some(({ rig }) => rig !== grandmasters[0]?.rig));
}

/** Whether one list names grandmasters of all these rigs. */
export function isAgreed(island: Pick<Island, 'group'>, rigs: ReadonlySet<Rig>): boolean {
  return agreedLists(island).some(({ grandmasters }) => {
    const named = new Set(grandmasters.map(({ rig }) => rig));
    return [...rigs].every((rig) => named.has(rig));
  });
}

/** A clock that rigs agreed on, and the one that leads instead. */
export interface Overruled {
  readonly list: PtpDomain;
  readonly agreed: Clock;
  readonly leader: Clock;
  /** Clocks that keep the leader's time. */
  readonly followers: number;
  /** `unheard`: the agreed one has the better claim, and it does not reach. */
  readonly why: 'follows only' | 'outranked' | 'unheard';
}

/** One a clock that is first in a list; where the wrong one leads without being meant to, there is no say of a list. */
export function overruledLeaders(island: Island): readonly Overruled[] {
  const told = new Set<Clock>();
  return byLabel(agreedLists(island), ({ grandmasters }) => grandmasters.map(nameOf).join('\n')).flatMap((list) => {
    const listed = listedOn(island, list);
    const [agreed] = listed;
    if (agreed === undefined || told.has(agreed) || new Set(listed.map(({ rig }) => rig)).size < 2) return [];
    told.add(agreed);
    return overruled(agreed, list, island);
  });
}

/** Clocks of a list that stand on an island, in its order. */
function listedOn({ clocks }: Island, { grandmasters }: PtpDomain): readonly Clock[] {
  const byOwner = new Map<object, Clock>(clocks.map((clock) => [clock.owner, clock]));
  return grandmasters.flatMap((owner) => byOwner.get(owner) ?? []);
}

function nameOf({ name, rig }: PtpDomain['grandmasters'][number]): string {
  return `${rig.name} ${name}`;
}

function overruled(agreed: Clock, list: PtpDomain, island: Island): readonly Overruled[] {
  const [first] = island.leaders.filter(({ followers }) => followers > 0);
  // One that is not meant to lead, or leads without a reference, is `timing/wrong-grandmaster-wins`.
  if (first === undefined || first.clock === agreed || !first.clock.meantToLead) return [];
  const { clock: leader, followers } = first;
  if (outrankedBy(leader, island).includes(agreed)) return [];
  const { order, step } = compareQualities(leader.quality, agreed.quality);
  const able = mayLead(agreed);
  // A tie is `timing/equal-priorities`; what the plan leaves open decides nothing.
  if (able && order < 0 && (step === 'identity' || (step !== 'priority1' && isOpenBetween(leader, agreed)))) return [];
  return [{ list, agreed, leader, followers, why: !able ? 'follows only' : order < 0 ? 'outranked' : 'unheard' }];
}

/** What puts an agreed clock first: a lower priority1 of its own, or higher ones of those that go before it. */
export type FirstPlace =
  | { readonly change: 'agreed'; readonly belowPriority1: number }
  | { readonly change: 'others'; readonly others: readonly ClockOwner[]; readonly abovePriority1: number };

export function firstPlaceFor(agreed: Clock, { clocks }: Pick<Island, 'clocks'>): FirstPlace {
  const before = clocks.filter(
    (one) => one.meantToLead && mayLead(one) && compareQualities(one.quality, agreed.quality).order < 0,
  );
  const lowest = Math.min(...before.map(({ quality }) => quality.priority1));
  const { priority1 } = agreed.quality;
  return priority1 >= HIGHEST_SAFE_PRIORITY1 && lowest > 0
    ? { change: 'agreed', belowPriority1: lowest }
    : { change: 'others', others: clocksByName(before).map(({ owner }) => owner), abovePriority1: priority1 };
}

/** A clock above it comes after every clock nobody set up, which has 128 (IEEE 1588-2008 Annex J.3.2). */
const HIGHEST_SAFE_PRIORITY1 = 127;

/** Rigs that have joined their clocks and no list that says who leads. */
export interface NoAgreement {
  readonly rigs: ReadonlySet<Rig>;
  /** Those meant to lead: the winner's rig first, the best claim of each rig first. */
  readonly meant: readonly Clock[];
  /** The one most follow. */
  readonly winner: Clock;
  /** The best of another rig. */
  readonly rival: Clock;
  /** Clocks that keep the time of another rig's, which they would not if their rig were alone; by name of the rig. */
  readonly moved: readonly (readonly [Rig, NonEmpty<Clock>])[];
}

export function withoutAgreement(island: Island, timing: TimingState): NoAgreement | undefined {
  const meant = intendedLeaders(island);
  const rigs = new Set(meant.map(({ rig }) => rig));
  if (rigs.size < 2 || isAgreed(island, rigs)) return undefined;
  // Where one leads that is not meant to, `timing/wrong-grandmaster-wins` says so.
  const winner = island.leaders.find(({ followers }) => followers > 0)?.clock;
  const rival = meant.find(({ rig }) => rig !== winner?.rig);
  if (winner?.meantToLead !== true || rival === undefined) return undefined;
  const moved = island.clocks.filter((clock) => {
    const outcome = timing.outcomeOf(clock);
    return rigs.has(clock.rig) && outcome?.parent !== undefined && outcome.grandmaster.rig !== clock.rig;
  });
  const byRig = byLabel([...groupBy(moved, ({ rig }) => rig)], ([{ name }]) => name);
  const own = meant.filter(({ rig }) => rig === winner.rig);
  return { rigs, meant: [...own, ...meant.filter(({ rig }) => rig !== winner.rig)], winner, rival, moved: byRig };
}

/** The join that ties two of the rigs, else the link. */
export function tieBetween({ joins, links }: Plan, rigs: ReadonlySet<Rig>): Join | Link | undefined {
  const several = (own: readonly Rig[]): boolean => new Set(own.filter((rig) => rigs.has(rig))).size > 1;
  return (
    joins.find(({ vlans, networks }) => several([...vlans, ...networks].map(({ rig }) => rig))) ??
    links.find(({ ends }) => several(ends.flatMap((end) => end.switch?.rig ?? [])))
  );
}
