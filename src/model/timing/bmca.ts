/**
 * The best master clock algorithm: which of two data sets is better and why, and what a port does about it.
 *
 * IEEE 1588-2008 §9.3.3 and §9.3.4, Figures 26 to 28 (2019: Figures 33 to 35), from memory; held against linuxptp's
 * `bmc.c`, and against running daemons in the tests.
 */
import { neverFollows } from './clock-quality.js';

export interface PortIdentity {
  readonly clock: bigint;
  /** From 1; 0 stands for the clock itself. */
  readonly port: number;
}

/** What a grandmaster says of itself. */
export interface ClockQuality {
  readonly priority1: number;
  readonly clockClass: number;
  readonly clockAccuracy: number;
  readonly offsetScaledLogVariance: number;
  readonly priority2: number;
  readonly identity: bigint;
}

/** A grandmaster as it is heard on a port, or a clock's own claim (D0). */
export interface DataSet {
  readonly grandmaster: ClockQuality;
  readonly stepsRemoved: number;
  readonly sender: PortIdentity;
  readonly receiver: PortIdentity;
}

/** What decides between two data sets, in the order in which it is asked. */
export type Step =
  | 'priority1'
  | 'clockClass'
  | 'clockAccuracy'
  | 'offsetScaledLogVariance'
  | 'priority2'
  | 'identity'
  | 'stepsRemoved'
  | 'sender'
  | 'receiver';

export interface Comparison {
  /** The first is better, the second is, or they are the same message. */
  readonly better: 'first' | 'second' | 'neither';
  /** Better by topology only: two ways to one grandmaster. */
  readonly byTopology: boolean;
  readonly step: Step | undefined;
}

const QUALITIES = ['priority1', 'clockClass', 'clockAccuracy', 'offsetScaledLogVariance', 'priority2'] as const;

/** Lower wins at every step (IEEE 1588-2008 Figures 27 and 28). */
export function compareDataSets(first: DataSet, second: DataSet): Comparison {
  if (first.grandmaster.identity === second.grandmaster.identity) return compareWays(first, second);
  const { order, step } = compareQualities(first.grandmaster, second.grandmaster);
  return { better: order < 0 ? 'first' : 'second', byTopology: false, step };
}

/** Two grandmasters: negative when the first is better. `stepsRemoved` plays no part between different ones. */
export function compareQualities(
  first: ClockQuality,
  second: ClockQuality,
): { readonly order: number; readonly step: Step } {
  for (const step of QUALITIES) if (first[step] !== second[step]) return { order: first[step] - second[step], step };
  return { order: first.identity < second.identity ? -1 : first.identity > second.identity ? 1 : 0, step: 'identity' };
}

/** Two ways to one grandmaster (IEEE 1588-2008 Figure 28). */
function compareWays(first: DataSet, second: DataSet): Comparison {
  const difference = first.stepsRemoved - second.stepsRemoved;
  if (difference !== 0) {
    const better = difference < 0 ? 'first' : 'second';
    if (Math.abs(difference) > 1) return { better, byTopology: false, step: 'stepsRemoved' };
    const longer = difference < 0 ? second : first;
    const order = comparePorts(longer.receiver, longer.sender);
    // Equal: the port hears itself, which the standard calls error-1.
    return order === 0 ? SAME : { better, byTopology: order > 0, step: 'stepsRemoved' };
  }
  const bySender = comparePorts(first.sender, second.sender);
  if (bySender !== 0) return { better: bySender < 0 ? 'first' : 'second', byTopology: true, step: 'sender' };
  const byReceiver = first.receiver.port - second.receiver.port;
  if (byReceiver !== 0) return { better: byReceiver < 0 ? 'first' : 'second', byTopology: true, step: 'receiver' };
  return SAME;
}

const SAME: Comparison = { better: 'neither', byTopology: false, step: undefined };

export function comparePorts(first: PortIdentity, second: PortIdentity): number {
  if (first.clock !== second.clock) return first.clock < second.clock ? -1 : 1;
  return first.port - second.port;
}

/** What a clock says of itself before it has heard anyone. */
export function ownDataSet(quality: ClockQuality): DataSet {
  const self = { clock: quality.identity, port: 0 };
  return { grandmaster: quality, stepsRemoved: 0, sender: self, receiver: self };
}

/** The outcome of the state decision, named as the standard does. */
export type Decision = 'M1' | 'M2' | 'M3' | 'P1' | 'P2' | 'S1';

/**
 * What one port of a clock that may lead does (IEEE 1588-2008 Figure 26).
 * @param own D0. @param best Ebest: the best heard on any port. @param here Erbest: the best heard on this port.
 */
export function decideState(
  own: DataSet,
  best: DataSet | undefined,
  here: DataSet | undefined,
  bestIsHere: boolean,
): Decision {
  if (neverFollows(own.grandmaster.clockClass)) return beats(own, here) ? 'M1' : 'P1';
  if (best === undefined || beats(own, best)) return 'M2';
  if (bestIsHere) return 'S1';
  if (here === undefined) return 'M3';
  const { better, byTopology } = compareDataSets(best, here);
  return better === 'first' && byTopology ? 'P2' : 'M3';
}

function beats(own: DataSet, other: DataSet | undefined): boolean {
  return other === undefined || compareDataSets(own, other).better === 'first';
}
