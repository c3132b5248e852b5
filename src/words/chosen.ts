/** The part of a load that inputs choose, in words. */
import type { Chosen } from '../model/network/index.js';
import type { Leg } from '../plan/types.js';
import { formatRate } from '../values/quantity.js';
import { listNames } from './lists.js';

/** What is chosen in the worst case; the streams are named where they are known. */
export interface ChosenFacts {
  readonly bps: number;
  readonly leftFirstBps: number;
  readonly streams: readonly string[];
  readonly exact: boolean;
  /** What the place carries where inputs that do not say so leave first; undefined where that helps too little. */
  readonly relievedBps: number | undefined;
}

export function chosenFacts(
  { bps, leftFirstBps, legs, exact }: Chosen,
  loadBps: number,
  limitBps: number,
): ChosenFacts {
  const relieved = loadBps - bps + leftFirstBps;
  return {
    bps,
    leftFirstBps,
    streams: chosenStreams(legs),
    exact,
    relievedBps: leftFirstBps < bps && relieved <= limitBps ? relieved : undefined,
  };
}

/** Each stream once, however many of its legs there are. */
export function chosenStreams(legs: readonly Leg[]): readonly string[] {
  return [...new Set(legs.map(({ sender }) => sender.label))];
}

/** `4.32 Gbit/s of it by choice, in the worst case of cam-1/video and cam-2/video`. */
export function chosenWords({ bps, leftFirstBps, streams, exact }: ChosenFacts): string {
  const of = streams.length === 0 ? '' : ` of ${listNames(streams, 4)}`;
  const choice = exact
    ? `${formatRate(bps)} of it by choice, in the worst case${of}`
    : `at most ${formatRate(bps)} of it by choice${of === '' ? '' : `, for one${of}`} (a bound: not every choice was tried)`;
  return leftFirstBps < bps
    ? `${choice}; ${formatRate(leftFirstBps)} if inputs ${LEAVE}, which the plan does not say`
    : choice;
}

/** What helps where it is the next stream beside the last one that is too much; nothing where that helps too little. */
export function leaving(chosen: ChosenFacts | undefined): readonly string[] {
  if (chosen?.relievedBps === undefined) return [];
  return [`state \`joinsFirst: false\` where inputs ${LEAVE}: ${formatRate(chosen.relievedBps)} is left then`];
}

const LEAVE = 'leave the last stream before they join the next';
