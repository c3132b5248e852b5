/** What leaders and boundary clocks have to serve, held against what the plan says they can. */
import { leaderLoad, perSecond, type MessageLoad } from './message-load.js';
import type { Clock, ClockPort, TimingState } from './timing.js';

export interface ClockPortLoad {
  readonly port: ClockPort;
  /** Clocks that follow this port. */
  readonly followers: number;
  readonly load: MessageLoad;
}

export interface ClockLoad {
  readonly clock: Clock;
  readonly followers: number;
  /** Delay requests a second it has to answer. */
  readonly delayRequestsPerSecond: number;
  readonly receivedPerSecond: number;
  readonly sentPerSecond: number;
  readonly ports: readonly ClockPortLoad[];
  /** Followers or delay requests are more than the plan says it can serve. */
  readonly isOver: boolean;
}

/** Every clock that someone follows, in plan order. Followers keep the leader's delay request interval. */
export function buildClockLoads(state: TimingState): readonly ClockLoad[] {
  return state.clocks.flatMap((clock) => {
    const followers = state.followersOf(clock);
    if (followers.length === 0) return [];
    const perPort = new Map<number, number>();
    for (const { parent } of followers)
      if (parent !== undefined) perPort.set(parent.port, (perPort.get(parent.port) ?? 0) + 1);
    const ports = clock.ports.flatMap((port, index): readonly ClockPortLoad[] => {
      const count = perPort.get(index);
      return count === undefined ? [] : [{ port, followers: count, load: leaderLoad({ ...clock, followers: count }) }];
    });
    const delayRequestsPerSecond = followers.length * perSecond(clock.logMinDelayReqInterval);
    const { capacity, delayRequestCapacity } = clock.settings;
    return [
      {
        clock,
        followers: followers.length,
        delayRequestsPerSecond,
        receivedPerSecond: sum(ports, ({ load }) => load.receivedPerSecond),
        sentPerSecond: sum(ports, ({ load }) => load.sentPerSecond),
        ports,
        isOver:
          followers.length > (capacity ?? Infinity) || delayRequestsPerSecond > (delayRequestCapacity ?? Infinity),
      },
    ];
  });
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
