import { groupBy } from '../../collections/group-by.js';
import type { Device, Switch } from '../../plan/types.js';
import type { Span } from '../../values/span.js';
import type { Model } from '../model.js';
import {
  fatesAfter,
  querierChanges,
  treeTurns,
  type QuerierChange,
  type TreePace,
  type TreeTurn,
} from '../network/index.js';
import { isHoldoverClass, type ClockMoment, type Opening, type Timing } from '../timing/index.js';
import type { Losable } from './losables.js';
import type { Happening, Moment, Unfollowed, QuerierMoment, Timeline, When } from './moments.js';
import { streamMoments } from './stream-moments.js';
import { AT_ONCE, known } from './when.js';

/** The parts of the model a timeline asks. */
export type TimelineModel = Pick<Model, 'plan' | 'network' | 'timing'>;

/** One pass over the receptions, and the clocks that the loss concerns played through. */
export function buildTimeline({ plan, network, timing }: TimelineModel, losable: Losable): Timeline {
  const { removal, loss, kind, name, clockClass } = losable;
  const lost = { kind, name, clockClass };
  const moments: Moment[] = [{ when: AT_ONCE, what: { kind: 'lost', lost } }];
  const notFollowed: Unfollowed[] = [];
  const slow: TreeTurn[] = [];
  let receptions = 0;
  if (removal !== undefined) {
    const fates = fatesAfter(plan, network, removal);
    const turns = treeTurns(network, removal);
    const { changes, unplaced } = querierChanges(network, removal, fates.remains);
    receptions = fates.count;
    moments.push(
      ...streamMoments(fates, removal, { turns, queriers: changes }),
      ...turns.map(treeMoment),
      ...querierMoments(changes),
    );
    slow.push(...turns.filter(({ span }) => span.toS > 0));
    if (fates.unfollowed.length > 0) notFollowed.push({ kind: 'legs', legs: fates.unfollowed });
    if (unplaced.length > 0) notFollowed.push({ kind: 'querier places', vlans: unplaced });
  }
  if (loss !== undefined) {
    const opening = openingOf(slow);
    const behind = opening === undefined ? undefined : timing.momentsBehind(loss, opening);
    const clocks = behind ?? timing.without(loss).moments;
    const assumed = behind !== undefined && slow.some(({ pace }) => isAssumed(pace));
    moments.push(
      ...clocks.map((moment): Moment => ({ when: clockWhen(moment, assumed), what: { kind: 'clocks', moment } })),
    );
    if (behind === undefined && opening !== undefined && clocks.length > 0)
      notFollowed.push({ kind: 'clocks behind tree', links: [...opening.links] });
  }
  for (const one of removal?.interfaces ?? [])
    if (timing.clockOf(one.device) !== undefined)
      notFollowed.push({ kind: 'clock of interface', device: one.device.name });
  if (clockClass !== undefined && !isHoldoverClass(clockClass)) notFollowed.push({ kind: 'holdover', clock: name });
  return { lost, isReturn: false, moments: moments.toSorted(byTime), notFollowed, receptions };
}

/** What clocks do once it is given back. Undefined where it moves no clock: an interface. */
export function buildReturn(timing: Timing, { loss, kind, name, clockClass }: Losable): Timeline | undefined {
  if (loss === undefined) return undefined;
  const lost = { kind, name, clockClass };
  const moments = timing
    .returned(loss)
    .map((moment): Moment => ({ when: clockWhen(moment, false), what: { kind: 'clocks', moment } }));
  return {
    lost,
    isReturn: true,
    moments: [{ when: AT_ONCE, what: { kind: 'back', lost } }, ...moments.toSorted(byTime)],
    notFollowed: kind === 'reference' ? [] : [{ kind: 'streams' }],
    receptions: 0,
  };
}

/** All trees together: several at once are rare, and the slowest decides. */
function openingOf(turns: readonly TreeTurn[]): Opening | undefined {
  if (turns.length === 0) return undefined;
  return {
    links: new Set(turns.flatMap(({ opened }) => opened)),
    opens: {
      fromS: Math.min(...turns.map(({ span }) => span.fromS)),
      toS: Math.max(...turns.map(({ span }) => span.toS)),
    },
  };
}

function isAssumed(pace: TreePace): boolean {
  return pace === 'open' || pace === 'mixed';
}

function treeMoment(turn: TreeTurn): Moment {
  return { when: known(turn.span, isAssumed(turn.pace)), what: { kind: 'new tree', turn } };
}

function querierMoments(changes: readonly QuerierChange[]): readonly Moment[] {
  const alike = groupBy(changes, ({ protocol, from, to, takesOver, gapS }) =>
    JSON.stringify([protocol, from.map(nameOf), to.map(nameOf), takesOver ?? null, gapS]),
  );
  return [...alike.values()].flatMap((list): readonly Moment[] => {
    const [{ protocol, from, to, takesOver, gapS }] = list;
    const change: QuerierMoment = {
      ...{ protocol, from, to, takesOver, gapS },
      vlans: [...new Set(list.flatMap(({ vlans }) => vlans))],
      switches: [...new Set(list.flatMap(({ switches }) => switches))],
    };
    return [
      ...(change.from.length === 0 ? [] : [{ when: AT_ONCE, what: { kind: 'querier lost' as const, change } }]),
      ...(change.takesOver === undefined
        ? []
        : [{ when: known(change.takesOver), what: { kind: 'querier takes over' as const, change } }]),
    ];
  });
}

/** Boxes of joined rigs may have one name. */
function nameOf({ name, rig }: Switch | Device): readonly string[] {
  return [name, rig.name];
}

function clockWhen(moment: ClockMoment, assumed: boolean): When {
  const at: Span | undefined = moment.at;
  if (at !== undefined) return known(at, assumed);
  return { kind: 'not known', lacks: moment.kind === 'lock unstated' ? 'settle' : 'takeover' };
}

/** Of one moment, what is lost comes first, and what follows from it after. */
const ORDER: Readonly<Record<Happening['kind'], number>> = {
  lost: 0,
  back: 0,
  'own inputs': 1,
  dark: 2,
  'legs off': 3,
  'spread anew': 4,
  'querier lost': 5,
  'new tree': 6,
  'legs on': 7,
  'querier takes over': 8,
  clocks: 9,
};

/** By the earliest, then the latest; times that are not known come last. */
function byTime(a: Moment, b: Moment): number {
  if (a.when.kind === 'not known' || b.when.kind === 'not known')
    return (
      Number(a.when.kind === 'not known') - Number(b.when.kind === 'not known') ||
      ORDER[a.what.kind] - ORDER[b.what.kind]
    );
  return a.when.fromS - b.when.fromS || a.when.toS - b.when.toS || ORDER[a.what.kind] - ORDER[b.what.kind];
}
