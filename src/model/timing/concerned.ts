/**
 * Which clocks one loss concerns, so that an election without it need not ask all others.
 *
 * A loss that takes nothing by which somebody gets time changes nothing: what was best on every port is still heard. So
 * only those decide anew whose way to their grandmaster the loss touches, and they need to hear no more than who stands on
 * paths with them, and whom those follow. Everybody else hears what was best before, or worse.
 */
import { append, groupBy } from '../../collections/group-by.js';
import type { Link } from '../../plan/types.js';
import { neverFollows } from './clock-quality.js';
import { MOST_STEPS } from './announces.js';
import type { ClockOwner } from './clocks.js';
import { holdsWithout, pathsWithout, type Gone, type Joint, type Attachment, type Needs } from './paths.js';
import { goneWith, type Clock, type ClockPort, type Loss, type TimingBase, type TimingState } from './timing.js';

export interface Concerned {
  /** Clocks of the whole plan that still stand and may decide otherwise. */
  readonly anew: ReadonlySet<Clock>;
  /** They, whom they may hear, and whom those follow: an election of these alone. In plan order. */
  readonly voters: readonly Clock[];
  /** The path of a port without what is lost; undefined where the port is gone with it. */
  readonly pathOf: (port: ClockPort) => number | undefined;
}

/** Undefined where a loss may concern everybody. */
export type ConcernedBy = (loss: Loss) => Concerned | undefined;

export function createConcerned(base: TimingBase, whole: TimingState): ConcernedBy {
  const { topology } = base;
  const attachments = byNeed(topology.attachments);
  const joints = byNeed(topology.joints);
  const order = new Map(whole.clocks.map((clock, index) => [clock, index]));
  const byFacts = new Map(whole.clocks.map((clock) => [clock.owner, clock]));
  const settled = whole.groups.every(({ election }) => election.settled);
  const onPaths = membersOf(whole.clocks, ({ path }) => path);

  return (loss) => {
    if (!settled || opens(loss, whole)) return undefined;
    const gone = goneWith(loss);
    const lost = [...gone.owners, ...gone.links];
    const holds = holdsWithout(gone);
    const parted = lost.some((one) => joints.get(one)?.some(({ needs }) => !holds(needs)));
    const paths = parted ? pathsWithout(topology, gone) : undefined;
    const pathOf = ({ attachment, path }: ClockPort): number | undefined => {
      if (paths !== undefined) return paths.get(attachment);
      return gone.owners.has(attachment.clock.owner) || !holds(attachment.needs) ? undefined : path;
    };
    const onPath = paths === undefined ? onPaths : membersOf(whole.clocks, pathOf);

    const touched = new Set<Clock>(parted ? whole.clocks : []);
    const touch = (owner: ClockOwner): void => {
      const clock = byFacts.get(owner);
      if (clock === undefined) return;
      touched.add(clock);
      for (const follower of whole.followersOf(clock)) touched.add(follower.clock);
    };
    if (!parted) {
      for (const owner of [...gone.owners, ...(loss.classes?.keys() ?? [])]) touch(owner as ClockOwner);
      for (const one of lost) for (const { clock } of attachments.get(one) ?? []) touch(clock.owner);
    }
    const anew = new Set<Clock>();
    const open: Clock[] = [];
    const decides = (clock: Clock): void => {
      if (anew.has(clock) || gone.owners.has(clock.owner)) return;
      anew.add(clock);
      open.push(clock);
    };
    for (const clock of touched)
      if (loss.classes?.has(clock.owner) === true || isCutOff(clock, whole, gone, pathOf) || isUnfolded(clock, pathOf))
        decides(clock);
    const around = function* (clock: Clock): Iterable<Clock> {
      for (const port of clock.ports) {
        const path = pathOf(port);
        for (const other of path === undefined ? [] : (onPath.get(path) ?? []))
          if (!gone.owners.has(other.owner)) yield other;
      }
    };
    for (const clock of open) {
      for (const follower of whole.followersOf(clock)) decides(follower.clock);
      if (keepsQuiet(clock, whole)) for (const other of around(clock)) decides(other);
    }
    const voters = new Set(anew);
    for (const clock of anew) for (const other of around(clock)) if (!other.slaveOnly) voters.add(other);
    // A set grows while it is walked: whoever is added is asked whom it follows, too.
    for (const clock of voters) {
      const parent = whole.outcomeOf(clock)?.parent?.clock;
      if (parent !== undefined && !gone.owners.has(parent.owner)) voters.add(parent);
    }
    const place = (clock: Clock): number => order.get(clock) ?? -1;
    return { anew, voters: [...voters].sort((a, b) => place(a) - place(b)), pathOf };
  };
}

/** Whether a clock that never followed may follow then, or one ranks higher: both let others hear what they did not. */
function opens({ classes }: Loss, whole: TimingState): boolean {
  return [...(classes ?? [])].some(([owner, after]) => {
    const before = whole.clockOf(owner)?.quality.clockClass ?? after;
    return after < before || neverFollows(before) !== neverFollows(after);
  });
}

/** Whether it tells nobody of what it follows: once it follows something else, or nothing, others may hear it anew. */
function keepsQuiet(clock: Clock, whole: TimingState): boolean {
  const { parent, stepsRemoved } = whole.outcomeOf(clock) ?? {};
  return parent !== undefined && ((!clock.relays && clock.ports.length > 1) || (stepsRemoved ?? 0) >= MOST_STEPS - 1);
}

/** Whether what it follows is not heard any more where it heard it. */
function isCutOff(clock: Clock, whole: TimingState, gone: Gone, pathOf: Concerned['pathOf']): boolean {
  const parent = whole.outcomeOf(clock)?.parent;
  if (parent === undefined) return false;
  const [through, from] = [clock.ports[parent.through], parent.clock.ports[parent.port]];
  if (through === undefined || from === undefined || gone.owners.has(parent.clock.owner)) return true;
  const path = pathOf(through);
  return path === undefined || path !== pathOf(from);
}

/** Whether ports that stood on one path, of which one kept quiet, do so no more. */
function isUnfolded({ ports }: Clock, pathOf: Concerned['pathOf']): boolean {
  if (ports.length < 2) return false;
  return [...groupBy(ports, ({ path }) => path).values()].some(
    (own) => own.length > 1 && new Set(own.map(pathOf)).size > 1,
  );
}

function membersOf(
  clocks: readonly Clock[],
  pathOf: (port: ClockPort) => number | undefined,
): ReadonlyMap<number, readonly Clock[]> {
  const found = new Map<number, Clock[]>();
  for (const clock of clocks)
    for (const port of clock.ports) {
      const path = pathOf(port);
      if (path !== undefined) append(found, path, clock);
    }
  return found;
}

/** By each switch and link it needs. */
function byNeed<T extends Attachment | Joint>(all: readonly T[]): ReadonlyMap<ClockOwner | Link, readonly T[]> {
  const found = new Map<ClockOwner | Link, T[]>();
  for (const one of all) {
    const { switches, links }: Needs = one.needs;
    for (const need of new Set<ClockOwner | Link>([...switches, ...links])) append(found, need, one);
  }
  return found;
}
