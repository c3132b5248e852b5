/**
 * Boundary clocks that keep the time of a clock meant to lead from others: one that only follows, one whose port to the
 * grandmaster only leads, and those of another domain, through which no PTP passes.
 *
 * What stands behind them is found by electing once more as if they were no hindrance (IEEE 1588-2008 §9.3.3).
 */
import { addTo, append } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Plan } from '../../plan/types.js';
import { adriftClocks, announcedOnPaths, isAdrift } from './adrift.js';
import { compareQualities } from './bmca.js';
import { clockRoleOf, followersOf } from './clock-role.js';
import { DEFAULT_CLOCK_CLASS } from './clock-quality.js';
import { clocksByName } from './clocks-by-name.js';
import { unplannedDomains } from './domain-crossings.js';
import { elect, type Election } from './election.js';
import { bridgesBetween, type Bridges } from './foreign-bridges.js';
import type { Clock, ClockPort, TimingGroup, TimingState } from './timing.js';

/** A boundary clock that only follows. */
export interface FollowsOnly {
  readonly form: 'follows only';
  readonly at: Clock;
  /** The highest priority1 of those meant to lead its domain: that of a boundary clock is to be higher. */
  readonly abovePriority1: number | undefined;
  /** Clocks that would follow through it, by name; empty where nothing hangs on it yet. */
  readonly behind: readonly Clock[];
}

/** A clock with ports that only lead, towards a better one that is meant to lead. */
export interface LeadsOnly {
  readonly form: 'leads only';
  readonly at: Clock;
  /** Names of the ports, as the plan lists them among those that only lead. */
  readonly ports: NonEmpty<string>;
  /** The best clock meant to lead that is announced there. */
  readonly unheard: Clock;
  /** Whose time the clock keeps instead: its own, or another's. */
  readonly instead: Clock;
  readonly behind: readonly Clock[];
}

/** Boundary clocks of other domains between clocks of one. */
export interface OtherDomain {
  readonly form: 'other domain';
  /** By name. */
  readonly at: NonEmpty<Clock>;
  /** Those that the others keep from a time of their domain, by name. */
  readonly behind: NonEmpty<Clock>;
  /** Meant to lead this domain on the other side, by name; empty where nobody is. */
  readonly meant: readonly Clock[];
}

export type Barrier = FollowsOnly | LeadsOnly | OtherDomain;

export interface Barriers {
  readonly found: readonly Barrier[];
  /** Clocks adrift that would not be without the barriers, or that stand behind boundary clocks of another domain. */
  readonly explained: ReadonlySet<Clock>;
}

export function findBarriers(plan: Plan, state: TimingState): Barriers {
  const adrift = new Set(adriftClocks(state));
  const astray = new Set(unplannedDomains(plan, state).flatMap(({ clocks }) => clocks));
  const found = state.groups
    .filter(({ election }) => election.settled)
    .map((group) => barriersIn(group, state, adrift, astray));
  return {
    found: found.flatMap((one) => one.found),
    explained: new Set(found.flatMap((one) => [...one.explained])),
  };
}

function barriersIn(
  group: TimingGroup,
  state: TimingState,
  adrift: ReadonlySet<Clock>,
  astray: ReadonlySet<Clock>,
): Barriers {
  const clocks = [...group.election.outcomes.keys()];
  const lost = clocks.filter((one) => adrift.has(one) && !astray.has(one));
  if (lost.length === 0 && !clocks.some(isFollowingRelay) && deafIn(group.election, clocks).length === 0) return NONE;
  const mayBe = new Set(lost);
  const bridges = lost.length === 0 ? undefined : bridgesBetween(group, state);
  const mended = mend(clocks, (path) => bridges?.joined(path) ?? path);
  const blame = new Map<object, [Clock, ...Clock[]]>();
  const explained = new Set<Clock>();
  for (const clock of lost) {
    const cause = causeOf(clock, mended, bridges);
    if (cause === undefined) continue;
    explained.add(clock);
    append(blame, cause, clock);
  }
  const behind = (cause: object): readonly Clock[] => clocksByName(blame.get(cause) ?? []);
  const foreign = (bridges?.all ?? []).flatMap((bridge): readonly OtherDomain[] => {
    const meant = clocksByName(bridge.clocks.filter((one) => one.meantToLead && !one.slaveOnly));
    const apart = meant.length > 0 ? behind(bridge) : clocksByName(bridge.clocks.filter((one) => mayBe.has(one)));
    if (!isNonEmpty(apart) || (meant.length === 0 && apart.length < 2)) return [];
    for (const one of apart) explained.add(one);
    return [{ form: 'other domain', at: clocksByName(bridge.at), behind: apart, meant }];
  });
  return {
    found: [
      ...clocks.filter(isFollowingRelay).map((at): FollowsOnly => ({
        form: 'follows only',
        at,
        abovePriority1: highestPriority1(clocks.filter((one) => one.meantToLead && one.rig === at.rig)),
        behind: behind(at).filter((one) => one !== at),
      })),
      ...mended.deaf.map(({ at, ports, unheard, instead }): LeadsOnly => ({
        form: 'leads only',
        at,
        ports,
        unheard,
        instead,
        behind: behind(at).filter((one) => one !== at),
      })),
      ...foreign,
    ],
    explained,
  };
}

const NONE: Barriers = { found: [], explained: new Set() };

function highestPriority1(clocks: readonly Clock[]): number | undefined {
  return clocks.length === 0 ? undefined : Math.max(...clocks.map(({ quality }) => quality.priority1));
}

/** A boundary clock that only follows passes nothing on; with one port there is nowhere to pass it. */
function isFollowingRelay({ relays, slaveOnly, ports }: Clock): boolean {
  return relays && slaveOnly && ports.length > 1;
}

/** An election without the barriers, and who was deaf towards a better clock before it. */
interface Mended {
  /** The clock as it was, for each of the clocks that were elected among. */
  readonly before: ReadonlyMap<Clock, Clock>;
  readonly after: ReadonlyMap<Clock, Clock>;
  readonly parentOf: (
    after: Clock,
  ) => { readonly clock: Clock; readonly through: number; readonly port: number } | undefined;
  readonly isAdrift: (after: Clock) => boolean;
  readonly deaf: readonly Deaf[];
}

type Deaf = Pick<LeadsOnly, 'at' | 'ports' | 'unheard' | 'instead'>;

function mend(clocks: readonly Clock[], joined: (path: number) => number): Mended {
  const freed = new Map<Clock, Set<number>>();
  const known = new Map<Clock, Deaf>();
  for (;;) {
    const before = new Map(clocks.map((one) => [freedOf(one, freed.get(one), joined), one]));
    const asBefore = (after: Clock): Clock => before.get(after) ?? after;
    const election = elect([...before.keys()]);
    // Who is deaf behind another one shows only once that one hears: one more round each.
    const deaf = deafIn(election, [...before.keys()]);
    for (const { at, open, unheard, instead } of deaf) {
      const clock = asBefore(at);
      for (const index of open) addTo(freed, clock, index);
      const names = [...(freed.get(clock) ?? [])].flatMap((index) => namesOf(clock, clock.ports[index]));
      const first = known.get(clock) ?? { at: clock, unheard: asBefore(unheard), instead: asBefore(instead) };
      if (isNonEmpty(names)) known.set(clock, { ...first, ports: names });
    }
    if (deaf.length > 0) continue;
    const followers = followersOf(election);
    return {
      before,
      after: new Map([...before].map(([after, clock]) => [clock, after])),
      parentOf: (after) => election.outcomes.get(after)?.parent,
      isAdrift: (after) => {
        const outcome = election.outcomes.get(after);
        if (outcome === undefined || !election.settled) return true;
        return isAdrift(clockRoleOf(outcome, followers.has(after)), outcome.grandmaster);
      },
      deaf: [...known.values()],
    };
  }
}

/** What its plan names as leading only: of several links to one neighbour, the ports of all that it names. */
function namesOf({ owner, settings }: Clock, port: ClockPort | undefined): readonly string[] {
  if (port === undefined) return [];
  const { name, needs } = port.attachment;
  const ends = needs.links.flatMap((link) =>
    link.ends.flatMap((end) => (end.switch === owner ? (end.port?.name ?? []) : [])),
  );
  return (ends.length === 0 ? [name] : ends).filter((one) => settings.masterOnly.includes(one));
}

interface DeafNow {
  readonly at: Clock;
  /** Indices of its ports that only lead and have the better clock behind them. */
  readonly open: readonly number[];
  readonly unheard: Clock;
  readonly instead: Clock;
}

function deafIn(election: Election<Clock>, clocks: readonly Clock[]): readonly DeafNow[] {
  const some = clocks.filter(({ ports }) => ports.some(({ masterOnly }) => masterOnly));
  if (some.length === 0) return [];
  const heard = announcedOnPaths(election);
  return some.flatMap((at): readonly DeafNow[] => {
    const instead = election.outcomes.get(at)?.grandmaster;
    if (instead === undefined) return [];
    const better = at.ports.flatMap(({ masterOnly, path }, index) => {
      const source = masterOnly ? heard(path, at) : undefined;
      return source !== undefined && isBetter(source, instead, at) ? [{ index, source }] : [];
    });
    const [best] = better.toSorted((a, b) => compareQualities(a.source.quality, b.source.quality).order);
    return best === undefined ? [] : [{ at, open: better.map(({ index }) => index), unheard: best.source, instead }];
  });
}

/** Meant to lead by the same rig, and with a better claim than whose time the clock keeps. */
function isBetter(source: Clock, grandmaster: Clock, clock: Clock): boolean {
  return (
    source !== grandmaster &&
    source.meantToLead &&
    source.rig === clock.rig &&
    compareQualities(source.quality, grandmaster.quality).order < 0
  );
}

function freedOf(clock: Clock, open: ReadonlySet<number> | undefined, joined: (path: number) => number): Clock {
  const ports = clock.ports.map((port, index): ClockPort => {
    const path = joined(port.path);
    return path === port.path && open?.has(index) !== true
      ? port
      : { ...port, path, masterOnly: port.masterOnly && open?.has(index) !== true };
  });
  if (!isFollowingRelay(clock)) return { ...clock, ports };
  // Last among those that may lead: freed, it is to pass time on and to give none.
  const quality = { ...clock.quality, priority1: 255, clockClass: DEFAULT_CLOCK_CLASS };
  return { ...clock, ports, slaveOnly: false, quality };
}

/** The barrier nearest to a clock on its way to a grandmaster, once there are none. */
function causeOf(clock: Clock, mended: Mended, bridges: Bridges | undefined): object | undefined {
  const start = mended.after.get(clock);
  if (start === undefined || mended.isAdrift(start)) return undefined;
  const deaf = new Set(mended.deaf.map(({ at }) => at));
  for (let at = start, parent = mended.parentOf(at); parent !== undefined; parent = mended.parentOf(at)) {
    const child = mended.before.get(at);
    const above = mended.before.get(parent.clock);
    if (child === undefined || above === undefined) return undefined;
    const port = child.ports[parent.through];
    if (port?.masterOnly === true && deaf.has(child)) return child;
    const from = above.ports[parent.port];
    if (port !== undefined && from !== undefined && port.path !== from.path) return bridges?.over(port.path);
    if (isFollowingRelay(above)) return above;
    at = parent.clock;
  }
  return undefined;
}
