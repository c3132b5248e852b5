/** Shapes of clocks that hand over: two grandmasters `g` and `h`, boundary clocks near `g` better than those near `h`. */
import type { ClockQuality } from '../../src/model/timing/bmca.js';
import { elect } from '../../src/model/timing/election.js';
import type { TimedClock, TimedEntry } from '../../src/model/timing/timed/memory.js';

export interface ShapeClock extends TimedClock {
  readonly name: string;
}

/** Announce interval as a power of two, receipt timeout. */
export interface Beat {
  readonly log: number;
  readonly timeout: number;
}

type Make = (name: string, paths: readonly (number | `${number}!`)[]) => ShapeClock;

interface Makers {
  readonly grandmaster: (name: 'g' | 'h' | 'i', path: number) => ShapeClock;
  /** Ports in order; `3!` only leads. */
  readonly boundary: Make;
  readonly follower: (name: string, path: number) => ShapeClock;
}

export const SHAPES = {
  segment: ({ grandmaster, follower }) => [grandmaster('g', 0), grandmaster('h', 0), follower('f', 0)],
  'both on one boundary clock': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [0, 1, 2]),
    follower('f', 2),
  ],
  'one each on two linked': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 2),
    boundary('u', [0, 1, 3]),
    boundary('v', [1, 2, 4]),
    follower('f', 3),
    follower('k', 4),
  ],
  'ring of three': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [0, 10, 12, 20]),
    boundary('v', [10, 11]),
    boundary('w', [11, 12, 1, 21]),
    follower('f', 20),
    follower('k', 21),
  ],
  'ring of five, grandmasters two apart': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [0, 10, 14, 20]),
    boundary('v', [10, 11]),
    boundary('w', [11, 12, 1, 21]),
    boundary('x', [12, 13]),
    boundary('y', [13, 14]),
    follower('f', 20),
    follower('k', 21),
  ],
  star: ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [10, 0, 20]),
    boundary('v', [10, 11, 12]),
    boundary('w', [11, 1]),
    boundary('x', [12, 22]),
    follower('f', 20),
    follower('k', 22),
  ],
  'two spines, one leaf': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [0, 10]),
    boundary('v', [1, 11]),
    boundary('w', [10, 11, 20]),
    follower('f', 20),
  ],
  'chain of four': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 1),
    boundary('u', [0, 10, 20]),
    boundary('v', [10, 11]),
    boundary('w', [11, 12]),
    boundary('x', [12, 1, 21]),
    follower('f', 20),
    follower('k', 21),
  ],
  'segment, then two in line': ({ grandmaster, boundary, follower }) => [
    grandmaster('g', 0),
    grandmaster('h', 0),
    boundary('u', [0, 10]),
    boundary('v', [10, 20]),
    follower('f', 20),
  ],
} satisfies Readonly<Record<string, (makers: Makers) => readonly ShapeClock[]>>;

export type ShapeName = keyof typeof SHAPES;

export function clocksIn(
  shape: (makers: Makers) => readonly ShapeClock[],
  { log, timeout }: Beat,
): readonly ShapeClock[] {
  let made = 0;
  const make = (
    name: string,
    paths: Parameters<Make>[1],
    claim: Partial<ClockQuality>,
    relays: boolean,
  ): ShapeClock => {
    made++;
    return {
      name,
      relays,
      slaveOnly: claim.clockClass === 255,
      quality: {
        priority1: 128,
        clockClass: 248,
        clockAccuracy: 0xfe,
        offsetScaledLogVariance: 0xffff,
        priority2: 128,
        identity: BigInt(made),
        ...claim,
      },
      ports: paths.map((path) => ({
        path: typeof path === 'number' ? path : Number(path.slice(0, -1)),
        masterOnly: typeof path === 'string',
      })),
      logAnnounceInterval: log,
      announceReceiptTimeout: timeout,
    };
  };
  return shape({
    grandmaster: (name, path) => make(name, [path], { clockClass: 6, priority1: 'ghi'.indexOf(name) + 1 }, false),
    boundary: (name, paths) => make(name, paths, {}, true),
    follower: (name, path) => make(name, [path], { clockClass: 255, priority1: 255 }, false),
  });
}

/** The clocks as they stand, with `lost` gone and its links up. */
export function without<C extends TimedClock>(
  clocks: readonly C[],
  lost: (clock: C) => boolean,
): readonly TimedEntry<C>[] {
  const { outcomes } = elect(clocks);
  return clocks.flatMap((clock) => {
    const outcome = outcomes.get(clock);
    const paths = clock.ports.map(({ path }) => path);
    return outcome === undefined
      ? []
      : [{ outcome, isGone: lost(clock), order: clock.ports.map((_, index) => index), quality: clock.quality, paths }];
  });
}
