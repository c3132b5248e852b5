/** Clocks adrift that no other fault explains: whatever is left keeps a time of its own, and this says why. */
import { groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Plan } from '../../plan/types.js';
import { adriftClocks, announcedOnPaths, type OnPaths } from './adrift.js';
import { compareQualities } from './bmca.js';
import type { Timing } from './build-timing.js';
import { neverFollows } from './clock-quality.js';
import { clocksByName } from './clocks-by-name.js';
import { isSwitch } from './clocks.js';
import { domainCrossings, unplannedDomains } from './domain-crossings.js';
import { intendedLeaders, isPlaced, mayLead, settledIslands } from './intent.js';
import { leaderless } from './leaderless.js';
import type { OutOfReach } from './out-of-reach.js';
import type { Clock, Island } from './timing.js';
import { splitByTransport } from './ways.js';
import { wrongLeaders } from './wrong-leaders.js';

/**
 * `class`: it hears a better clock, and of its class none follows. `outranks`: its own claim goes before those it hears.
 * `open`: so it seems, while the plan leaves open what class a grandmaster has. `unheard`: it hears nobody meant to lead.
 * `no port`: on no network of it PTP runs. `nobody meant`: the rig wants nobody to lead in the domain.
 */
export type OwnTimeReason = 'class' | 'outranks' | 'open' | 'unheard' | 'no port' | 'nobody meant';

export interface OwnTime {
  readonly reason: OwnTimeReason;
  /** Those that keep their own time, the one with most followers first, then by name. */
  readonly own: NonEmpty<Clock>;
  /** Those that follow them, by name. */
  readonly followers: readonly Clock[];
  /** Meant to lead that they hear, or could hear, by name. */
  readonly meant: readonly Clock[];
  /** False where the plan does not say in which VLAN one of them, or one meant to lead, stands. */
  readonly isPlaced: boolean;
}

/**
 * One a reason and island; those in a domain where nobody is meant to lead, and those without a port, one a domain.
 * `unreached`: what `outOfReach` finds.
 */
export function ownTimes(plan: Plan, timing: Timing, unreached: readonly OutOfReach[]): readonly OwnTime[] {
  const told = explainedElsewhere(plan, timing, unreached);
  const rest = adriftClocks(timing).filter((one) => !told.has(one) && !isIdleSwitch(one));
  if (rest.length === 0) return [];
  const crossing = domainCrossings(plan, timing, unplannedDomains(plan, timing));
  const isCrossed = ({ domain }: Clock): boolean =>
    crossing.some(({ low, high, to }) => domain === (to === low ? high : low));
  const meantFor = createMeant(timing);
  const reasonOf = createReasons(timing, meantFor);
  const topOf = (clock: Clock): Clock => timing.outcomeOf(clock)?.grandmaster ?? clock;
  const reasons = rest.map((clock) => ({ clock, top: topOf(clock), reason: reasonOf(topOf(clock)) }));
  const islands = new Map(timing.groups.flatMap(({ islands: all }) => all).map((island, index) => [island, index]));
  const same = groupBy(
    // Streams that pass from one domain to another say which one is wrong.
    reasons.filter(({ clock, reason }) => reason !== 'nobody meant' || !isCrossed(clock)),
    ({ top, reason }) => {
      const island = timing.islandOf(top);
      const place =
        reason === 'nobody meant' || reason === 'no port' || island === undefined ? '' : islands.get(island);
      return [reason, top.domain, top.rig.name, top.transport, place].join('\n');
    },
  );
  return [...same.values()].flatMap((found): readonly OwnTime[] => {
    const [{ reason }] = found;
    const clocks = clocksByName(found.map(({ clock }) => clock));
    const byTop = groupBy(found, ({ top }) => top);
    const countOf = (top: Clock): number => byTop.get(top)?.length ?? 0;
    const own = [...clocksByName([...byTop.keys()])].sort((a, b) => countOf(b) - countOf(a));
    const meant = meantFor(clocks[0] ?? found[0].clock);
    if (!isNonEmpty(own)) return [];
    const placed = [...clocks, ...meant].every((one) => isPlaced(one) || (reason === 'no port' && hasInterfaces(one)));
    return [{ reason, own, followers: clocks.filter((one) => topOf(one) !== one), meant, isPlaced: placed }];
  });
}

/** Nothing is plugged into it that speaks PTP. */
function isIdleSwitch({ owner, ports }: Clock): boolean {
  return isSwitch(owner) && ports.length === 0;
}

function hasInterfaces({ owner }: Clock): boolean {
  return isSwitch(owner) || owner.interfaces.length > 0;
}

/** Others of the same rig and domain that are meant to lead, over any transport, by name. */
function createMeant({ clocks }: Timing): (clock: Clock) => readonly Clock[] {
  const keyOf = ({ rig, domain }: Clock): string => `${domain} ${rig.name}`;
  const all = groupBy(
    clocks.filter((one) => one.meantToLead && !one.slaveOnly),
    keyOf,
  );
  return (clock) => clocksByName(all.get(keyOf(clock)) ?? []).filter((one) => one !== clock);
}

function createReasons(timing: Timing, meantFor: (clock: Clock) => readonly Clock[]): (top: Clock) => OwnTimeReason {
  const bestOn = createBestMeant(timing);
  const heard = new Map<Clock, OnPaths>();
  for (const { election } of timing.groups) {
    const onPaths = announcedOnPaths(election);
    for (const clock of election.outcomes.keys()) heard.set(clock, onPaths);
  }
  return (top) => {
    if (top.ports.length === 0) return 'no port';
    if (meantFor(top).length === 0) return 'nobody meant';
    const sources = top.ports.flatMap(({ path, masterOnly }) =>
      masterOnly ? [] : (heard.get(top)?.(path, top) ?? []),
    );
    const [best] = sources
      .filter((one) => one.meantToLead)
      .sort((a, b) => compareQualities(a.quality, b.quality).order);
    if (best === undefined || !mayLead(top)) return isOpenAgainst(top, bestOn(top)) ? 'open' : 'unheard';
    if (compareQualities(top.quality, best.quality).order < 0) return isOpenAgainst(top, best) ? 'open' : 'outranks';
    return neverFollows(top.quality.clockClass) ? 'class' : 'unheard';
  };
}

/** It leads clocks that a clock meant to lead stands among, and that one's class is not stated. */
function isOpenAgainst(top: Clock, best: Clock | undefined): boolean {
  if (best === undefined || !mayLead(top)) return false;
  const { order, step } = compareQualities(top.quality, best.quality);
  return order < 0 && step !== 'priority1' && best.assumed.has('clockClass');
}

/** The best of those meant to lead that stand on a clock's island. */
function createBestMeant(timing: Timing): (clock: Clock) => Clock | undefined {
  const known = new Map<Island, readonly Clock[]>();
  return (clock) => {
    const island = timing.islandOf(clock);
    return island && kept(known, island, () => intendedLeaders(island))[0];
  };
}

/** Clocks whose cause another rule names. */
function explainedElsewhere(plan: Plan, timing: Timing, unreached: readonly OutOfReach[]): ReadonlySet<Clock> {
  const wrong = new Set(
    settledIslands(timing).flatMap((island) =>
      wrongLeaders(island, timing).flatMap(({ form, leader }) => (form === 'unintended' ? [leader] : [])),
    ),
  );
  return new Set([
    ...timing.barriers.explained,
    ...unplannedDomains(plan, timing).flatMap(({ clocks }) => clocks),
    ...splitByTransport(timing).flatMap(({ cut }) => cut),
    ...leaderless(timing).flatMap(({ clocks }) => clocks),
    ...unreached.flatMap(({ leading: [leader] }) => timing.islandOf(leader)?.clocks ?? []),
    // `timing/follower-outranks` and `timing/wrong-grandmaster-wins`.
    ...timing.clocks.filter(
      (one) => timing.clockRoleOf(one) === 'outranks' || wrong.has(timing.outcomeOf(one)?.grandmaster ?? one),
    ),
  ]);
}
