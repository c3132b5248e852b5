/** What each single failure does to the clocks: the election held again without it, from an empty state. */
import { once } from '../../collections/once.js';
import type { Device, Link, Plan, Switch } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';
import { classesAfterLoss } from './clock-quality.js';
import { isSwitch, type ClockOwner } from './clocks.js';
import type { Span } from '../../values/span.js';
import { timesAfter, type Standing } from './timed/after-loss.js';
import { outward } from './timed/outward.js';
import { joined, mergeInterims, REROUTE_STARTS, TAKEOVER_STARTS, type Interim, type LossTimes } from './timed/spans.js';
import { pathsWithout } from './paths.js';
import { clockMoments, endIn, type ClockMoment } from './clock-moments.js';
import type { Concerned, ConcernedBy } from './concerned.js';
import type { Clock, Loss, TimingBase, TimingState } from './timing.js';
import { goneWith, timingAmong, timingWithout } from './timing.js';

/** `reference`: a clock keeps running, but has lost what it was locked to. */
export type LossKind = 'device' | 'switch' | 'link' | 'reference' | 'risk' | 'power feed';

export interface NamedLoss {
  readonly kind: LossKind;
  readonly name: string;
  /** clockClass after a reference is lost. */
  readonly clockClass: number | undefined;
  readonly loss: Loss;
}

/** In seconds from the last Announce of what is lost, over many starts; a clock that has chosen may still have to lock. */
export interface TakeoverTimes {
  /** Until the new grandmaster leads; undefined where no start that was tried showed it speak: not known. */
  readonly standby: Span | undefined;
  /** Until each of its followers has chosen it; undefined where no start showed it of one of them: not known. */
  readonly followers: Span | undefined;
  /** Whom followers may follow in between, longest first: boundary clocks on their own time, mostly. */
  readonly between: readonly Interim<Clock>[];
  /** Announces of what is lost may circle in a ring: the longest that takes; undefined where no start showed it. */
  readonly circlingS: number | undefined;
}

/** A grandmaster handed over, for some of its followers. */
export interface Handover {
  readonly domain: number;
  readonly from: Clock;
  readonly to: Clock;
  readonly followers: readonly Clock[];
  /** Worked out where somebody asks. */
  readonly times: TakeoverTimes;
  /** The old grandmaster still leads others: two times in one domain. */
  readonly stillLeads: boolean;
}

export interface LossResult {
  readonly lost: NamedLoss;
  readonly handovers: readonly Handover[];
  /** Same grandmaster, through another clock. */
  readonly rerouted: readonly Clock[];
  /** Until each of those follows its new parent, in seconds as those of handovers; undefined where there are none, or not known. */
  readonly reroutedIn: Span | undefined;
  /** They followed, and now keep their own time, or none. */
  readonly alone: readonly Clock[];
  /** What clocks do one after another, worked out where somebody asks. */
  readonly moments: readonly ClockMoment[];
  /** The election without what is lost. */
  readonly state: TimingState;
}

/** Losses that change who follows whom, in this order: devices, references, switches, links, risks, power feeds. */
export function buildFailover(
  plan: Plan,
  base: TimingBase,
  whole: TimingState,
  concernedBy: ConcernedBy,
): readonly LossResult[] {
  return possibleLosses(plan, whole).flatMap((lost) => {
    const result = loseNow(lost, base, whole, concernedBy);
    return result.handovers.length + result.rerouted.length + result.alone.length === 0 ? [] : [result];
  });
}

/**
 * One loss, whether it changes anything or not. The clocks it names are those of the whole plan. Without `concernedBy` every
 * clock is asked again.
 */
export function loseNow(lost: NamedLoss, base: TimingBase, whole: TimingState, concernedBy?: ConcernedBy): LossResult {
  const concerned = concernedBy?.(lost.loss);
  const among = concerned === undefined ? undefined : stateAmong(concerned, lost.loss, base, whole);
  const state = among ?? timingWithout(base, lost.loss, whole);
  const moved = new Map<string, { readonly from: Clock; readonly to: Clock; readonly followers: Clock[] }>();
  const rerouted: Clock[] = [];
  const alone: Clock[] = [];
  const wholeClock = (clock: Clock): Clock => whole.clockOf(clock.owner) ?? clock;
  for (const standing of state.clocks) {
    const clock = wholeClock(standing);
    const before = whole.outcomeOf(clock);
    if (before?.parent === undefined) continue;
    const after = state.outcomeOf(standing);
    if (after === undefined || (after.parent === undefined && state.clockRoleOf(standing) !== 'leads')) {
      alone.push(clock);
    } else if (after.grandmaster.owner !== before.grandmaster.owner) {
      const to = wholeClock(after.grandmaster);
      const key = `${keyOf(before.grandmaster)}\n${keyOf(to)}`;
      const known = moved.get(key);
      if (known === undefined) moved.set(key, { from: before.grandmaster, to, followers: [clock] });
      else known.followers.push(clock);
    } else if (after.parent?.clock.owner !== before.parent.clock.owner) {
      rerouted.push(clock);
    }
  }
  /** Somebody whom the loss does not concern follows it on. */
  const keepsOne = (leader: Clock): boolean =>
    whole.followersOf(leader).some(({ clock }) => concerned?.anew.has(clock) !== true && !isGone(clock, lost.loss));
  const standing = once(() => standingFor(lost.loss, base, whole, among && concerned));
  const timed = once(() => {
    return timesAfter(lost.loss, whole, standing(), moved.size === 0 ? REROUTE_STARTS : TAKEOVER_STARTS);
  });
  const handovers = [...moved.values()].map((one): Handover => {
    const still = state.clockOf(one.from.owner);
    const isKept = among !== undefined && !isGone(one.from, lost.loss) && keepsOne(one.from);
    const stillLeads = isKept || (still !== undefined && state.clockRoleOf(still) === 'leads');
    const times = once(() => takeoverTimes(one, timed()));
    return {
      ...one,
      domain: one.to.domain,
      stillLeads,
      get times() {
        return times();
      },
    };
  });
  const reroutedIn = once(() => {
    const spans = rerouted.flatMap((clock) => timed().chosen(clock) ?? []);
    const [first] = rerouted;
    return spans.length < rerouted.length || first === undefined ? undefined : outward(joined(spans), first);
  });
  // Hundreds of elections are not kept: one that is asked for again is held again.
  const again = once(() => timingWithout(base, lost.loss, whole));
  const moments = once(() =>
    clockMoments(lost.loss, {
      before: whole,
      standing: standing(),
      times: timed(),
      electedFor: (clock) => endIn(state, clock, whole),
    }),
  );
  return {
    lost,
    handovers,
    rerouted,
    alone,
    get moments() {
      return moments();
    },
    get reroutedIn() {
      return reroutedIn();
    },
    get state() {
      return again();
    },
  };
}

/** The clocks a timed run has to hold: those concerned and whom they hear, or all. */
function standingFor(loss: Loss, base: TimingBase, whole: TimingState, concerned: Concerned | undefined): Standing {
  if (concerned === undefined) {
    const paths = pathsWithout(base.topology, goneWith(loss));
    return { clocks: whole.clocks, unheard: [], pathOf: ({ attachment }) => paths.get(attachment) };
  }
  const { anew, voters, pathOf } = concerned;
  const gone = whole.clocks.filter((clock) => isGone(clock, loss));
  const clocks = [...gone, ...voters];
  const known = new Set(clocks);
  const masters = new Set([...anew].flatMap((clock) => whole.outcomeOf(clock)?.parent?.clock ?? []));
  return { clocks, unheard: [...masters].filter((clock) => !known.has(clock)), pathOf };
}

type Moved = Pick<Handover, 'from' | 'to' | 'followers'>;

/** What no start showed is not known, and never nothing. */
export function takeoverTimes(
  { from, to, followers }: Moved,
  times: Pick<LossTimes<Clock>, 'speaks' | 'chosen' | 'between' | 'circlingS'>,
): TakeoverTimes {
  const others = followers.filter((one) => one !== to);
  const chosen = others.flatMap((one) => times.chosen(one) ?? []);
  const standby = times.speaks(to);
  const accepted = others.length === 0 ? standby : chosen.length < others.length ? undefined : joined(chosen);
  const between = mergeInterims(followers.flatMap((one) => times.between(one)));
  return {
    standby: standby && outward(standby, to),
    followers: accepted && outward(accepted, to),
    between: between
      .filter(({ grandmaster }) => grandmaster !== to && grandmaster !== from)
      .toSorted((a, b) => b.longestS - a.longestS),
    circlingS: times.circlingS,
  };
}

/** Undefined where clocks that should not be concerned are: then all of them are asked. */
function stateAmong(
  { anew, voters, pathOf }: Concerned,
  loss: Loss,
  base: TimingBase,
  whole: TimingState,
): TimingState | undefined {
  const state = timingAmong(voters, base, loss, pathOf);
  if (state.groups.some(({ election }) => !election.settled)) return undefined;
  const isSound = voters.every((clock, index) => {
    const standing = state.clocks[index];
    if (anew.has(clock) || standing === undefined) return true;
    const [before, after] = [whole.outcomeOf(clock), state.outcomeOf(standing)];
    return (
      before?.parent?.clock.owner === after?.parent?.clock.owner &&
      before?.grandmaster.owner === after?.grandmaster.owner &&
      before?.stepsRemoved === after?.stepsRemoved
    );
  });
  return isSound ? state : undefined;
}

function isGone(clock: Clock, { owners }: Loss): boolean {
  return owners?.has(clock.owner) === true;
}

function keyOf({ name, rig }: Clock): string {
  return `${name} ${rig.name}`;
}

/** Everything whose loss can change who follows whom; a device nobody follows changes nothing. */
function possibleLosses(plan: Plan, whole: TimingState): readonly NamedLoss[] {
  const followed = whole.clocks.filter((clock) => clock.meantToLead || whole.followersOf(clock).length > 0);
  return [
    ...lossesOf(followed),
    ...passingDevices(plan),
    ...plan.switches.map(switchLoss),
    ...plan.links.map(linkLoss),
    ...sharedLosses(plan),
  ];
}

/** Everything of a plan that can be lost to its clocks. */
export function namedLosses(plan: Plan, whole: TimingState): readonly NamedLoss[] {
  return [
    ...lossesOf(whole.clocks),
    ...passingDevices(plan),
    ...plan.switches.map(switchLoss),
    ...plan.links.map(linkLoss),
    ...sharedLosses(plan),
  ];
}

function lossesOf(clocks: readonly Clock[]): readonly NamedLoss[] {
  const devices = clocks.flatMap(({ owner }) => (isSwitch(owner) ? [] : [deviceLoss(owner)]));
  return [...devices, ...clocks.flatMap(referenceLosses)];
}

/** Transparent clocks: none of the clocks that elect, but the path of some. */
function passingDevices({ devices }: Plan): readonly NamedLoss[] {
  return devices
    .filter(({ ptp }) => ptp?.mode === 'e2e-transparent' || ptp?.mode === 'p2p-transparent')
    .map(deviceLoss);
}

function deviceLoss(one: Device): NamedLoss {
  return { kind: 'device', name: one.name, clockClass: undefined, loss: { owners: new Set<ClockOwner>([one]) } };
}

function switchLoss(one: Switch): NamedLoss {
  return { kind: 'switch', name: one.name, clockClass: undefined, loss: { owners: new Set<ClockOwner>([one]) } };
}

function linkLoss(one: Link): NamedLoss {
  return { kind: 'link', name: linkLabel(one), clockClass: undefined, loss: { links: new Set([one]) } };
}

/** These clocks gone together. */
export function lossOfClocks(clocks: readonly Clock[]): NamedLoss {
  const name = clocks.map((one) => one.name).join(' and ');
  return { kind: 'device', name, clockClass: undefined, loss: { owners: new Set(clocks.map(({ owner }) => owner)) } };
}

/** These links cut together. */
export function lossOfLinks(links: readonly Link[]): NamedLoss {
  const name = links.map(linkLabel).join(' and ');
  return { kind: 'link', name, clockClass: undefined, loss: { links: new Set(links) } };
}

/** One for each class the clock steps down to. */
function referenceLosses({ owner, name, quality, settings }: Clock): readonly NamedLoss[] {
  return classesAfterLoss(quality.clockClass, settings.afterHoldover).map((clockClass) => ({
    kind: 'reference',
    name,
    clockClass,
    loss: { classes: new Map<ClockOwner, number>([[owner, clockClass]]) },
  }));
}

/** Several things that share one duct or one power feed. A box on two feeds survives the loss of one. */
function sharedLosses(plan: Plan): readonly NamedLoss[] {
  const risks = new Map<string, Set<Link>>();
  for (const link of plan.links) for (const risk of link.risks) add(risks, risk, link);
  const feeds = new Map<string, Set<ClockOwner>>();
  for (const one of [...plan.switches, ...plan.devices]) {
    const [only, ...others] = new Set(one.power);
    if (only !== undefined && others.length === 0) add(feeds, only, one);
  }
  return [
    ...[...risks].map(([name, links]): NamedLoss => ({ kind: 'risk', name, clockClass: undefined, loss: { links } })),
    ...[...feeds].map(([name, owners]): NamedLoss => ({
      kind: 'power feed',
      name,
      clockClass: undefined,
      loss: { owners },
    })),
  ];
}

function add<K, V>(map: Map<K, Set<V>>, key: K, value: V): void {
  const set = map.get(key);
  if (set === undefined) map.set(key, new Set([value]));
  else set.add(value);
}
