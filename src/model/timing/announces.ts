/** What is announced on communication paths while clocks elect. */
import { compareQualities, comparePorts, type ClockQuality, type DataSet } from './bmca.js';

/** A clock as the election sees it. */
export interface ElectionClock {
  readonly quality: ClockQuality;
  /** A boundary clock: passes on what it follows. */
  readonly relays: boolean;
  readonly slaveOnly: boolean;
  /** Numbered from 1 in this order. */
  readonly ports: readonly ElectionPort[];
}

export interface ElectionPort {
  /** Communication path: ports of one path hear each other. */
  readonly path: number;
  /** Ignores Announces and never follows (masterOnly of IEEE 1588-2019). */
  readonly masterOnly: boolean;
}

/** Announces that have come further are ignored (IEEE 1588-2008 §9.3.2.5). */
export const MOST_STEPS = 255;

export interface Announce<C extends ElectionClock> {
  readonly from: C;
  readonly port: number;
  readonly source: C;
  readonly data: Omit<DataSet, 'receiver'>;
}

/** The best Announce of each path, and the best of any other clock: no port takes its own clock's. */
export type Heard<C extends ElectionClock> = ReadonlyMap<number, readonly Announce<C>[]>;

/** Keeps the best Announce and the best one of another clock, so that a path of thousands stays linear. */
export function keepBest<C extends ElectionClock>(
  paths: Map<number, Announce<C>[]>,
  path: number,
  announce: Announce<C>,
): void {
  const kept = paths.get(path);
  if (kept === undefined) {
    paths.set(path, [announce]);
    return;
  }
  const at = kept.findIndex((one) => rank(announce.data, one.data) < 0);
  kept.splice(at === -1 ? kept.length : at, 0, announce);
  const [first] = kept;
  const other = kept.find((one) => one.data.sender.clock !== first?.data.sender.clock);
  kept.length = 0;
  if (first !== undefined) kept.push(first);
  if (other !== undefined) kept.push(other);
}

/** The data set comparison for one listener, to whom the receiving port is the same. */
export function rank(first: Announce<ElectionClock>['data'], second: Announce<ElectionClock>['data']): number {
  if (first.grandmaster.identity !== second.grandmaster.identity)
    return compareQualities(first.grandmaster, second.grandmaster).order;
  return first.stepsRemoved - second.stepsRemoved || comparePorts(first.sender, second.sender);
}
