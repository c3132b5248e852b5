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
  const settled = whole.groups.every(({ election }) => election.settled);
  const onPaths = membersOf(whole.clocks, ({ path }) => path);

  const folded = new Set(
    whole.clocks.filter(({ ports }) => ports.length > 1 && new Set(ports.map(({ path }) => path)).size < ports.length),
  );
  const followersBy = followersByPort(whole);

  /** Clocks that lose a port, or what is at the other end of one. */
  const touchedBy = ({ classes }: Loss, { owners, links }: Gone): ReadonlySet<Clock> => {
    const found = new Set<Clock>();
    const add = (owner: ClockOwner): void => {
      const clock = whole.clockOf(owner);
      if (clock !== undefined) found.add(clock);
    };
    for (const owner of owners) {
      const clock = whole.clockOf(owner);
      for (const follower of clock === undefined ? [] : whole.followersOf(clock)) found.add(follower.clock);
    }
    for (const owner of classes?.keys() ?? []) add(owner);
    for (const one of [...owners, ...links]) {
      for (const attachment of attachments.get(one) ?? []) {
        add(attachment.clock.owner);
        for (const follower of followersBy.get(attachment) ?? []) found.add(follower);
      }
    }
    return found;
  };

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

    const touched = parted ? whole.clocks : touchedBy(loss, gone);
    const anew = new Set<Clock>();
    const open: Clock[] = [];
    const decides = (clock: Clock): void => {
      if (anew.has(clock) || gone.owners.has(clock.owner)) return;
      anew.add(clock);
      open.push(clock);
    };
    for (const clock of touched)
      if (
        loss.classes?.has(clock.owner) === true ||
        isCutOff(clock, whole, gone, pathOf) ||
        (folded.has(clock) && isUnfolded(clock, pathOf))
      )
        decides(clock);
    const around = function* (clock: Clock): Iterable<Clock> {
      for (const port of clock.ports) {
        const path = pathOf(port);
        for (const other of path === undefined ? [] : (onPath.get(path) ?? []))
          if (!gone.owners.has(other.owner)) yield other;
      }
    };
    const louder = new Set<Clock>();
    for (const clock of open) {
      for (const follower of whole.followersOf(clock)) decides(follower.clock);
      if (!keepsQuiet(clock, whole)) continue;
      // What it says then may be better than what others hear, and they pass it on.
      const spreading = [clock];
      for (const one of spreading) {
        for (const other of around(one)) {
          decides(other);
          if (other.slaveOnly || louder.has(other)) continue;
          louder.add(other);
          spreading.push(other);
        }
      }
    }
    const voters = new Set(anew);
    for (const clock of anew) for (const other of around(clock)) if (!other.slaveOnly) voters.add(other);
    // A set grows while it is walked: whoever is added is asked whom it follows, too.
    for (const clock of voters) {
      const parent = anew.has(clock) ? undefined : whole.outcomeOf(clock)?.parent?.clock;
      if (parent !== undefined) voters.add(parent);
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

/** Whether it tells nobody of what it follows: once it follows something else, or nothing, others hear it anew. */
function keepsQuiet(clock: Clock, whole: TimingState): boolean {
  const { parent, stepsRemoved } = whole.outcomeOf(clock) ?? {};
  if (parent === undefined || clock.slaveOnly) return false;
  return clock.relays ? (stepsRemoved ?? 0) >= MOST_STEPS - 1 : clock.ports.length > 1;
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

/** Who follows through each port of another clock. */
function followersByPort(whole: TimingState): ReadonlyMap<Attachment, readonly Clock[]> {
  const found = new Map<Attachment, Clock[]>();
  for (const clock of whole.clocks) {
    const parent = whole.outcomeOf(clock)?.parent;
    const port = parent?.clock.ports[parent.port];
    if (port !== undefined) append(found, port.attachment, clock);
  }
  return found;
}

/** By each switch and link it needs. */
function byNeed<T extends Attachment | Joint>(all: readonly T[]): ReadonlyMap<ClockOwner | Link, readonly T[]> {
  const found = new Map<ClockOwner | Link, T[]>();
  for (const one of all) {
    const { boxes, links }: Needs = one.needs;
    for (const need of new Set<ClockOwner | Link>([...boxes, ...links])) append(found, need, one);
  }
  return found;
}
