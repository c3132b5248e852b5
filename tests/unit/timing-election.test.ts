/** Laws of the election, whatever the clocks. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareDataSets, compareQualities, type ClockQuality, type DataSet } from '../../src/model/timing/bmca.js';
import { elect, electFromNothing } from '../../src/model/timing/election.js';
import { islandsOf, reasonOf } from '../../src/model/timing/clock-role.js';
import { clocksOf, RANDOM_SET, told, type Made } from '../tools/election-sets.js';
import { growth, LINEAR } from '../tools/growth.js';

const QUALITY: fc.Arbitrary<ClockQuality> = fc.record({
  priority1: fc.constantFrom(0, 127, 128, 255),
  clockClass: fc.constantFrom(6, 7, 187, 248),
  clockAccuracy: fc.constantFrom(0x20, 0x21, 0xfe),
  offsetScaledLogVariance: fc.constantFrom(0, 0x4e5d, 0xffff),
  priority2: fc.constantFrom(0, 128, 255),
  identity: fc.bigInt({ min: 0n, max: 0xffff_ffff_ffff_ffffn }),
});
/** Ways from three grandmasters, each with one rank, as one port of one listener hears them. */
const HEARD: fc.Arbitrary<DataSet> = fc
  .record({
    from: fc.constantFrom(1, 2, 3),
    stepsRemoved: fc.nat(5),
    sender: fc.record({ clock: fc.bigInt({ min: 10n, max: 20n }), port: fc.integer({ min: 1, max: 3 }) }),
  })
  .map(({ from, stepsRemoved, sender }) => ({
    grandmaster: {
      priority1: 128,
      clockClass: 6,
      clockAccuracy: 0x20 + (from % 2),
      offsetScaledLogVariance: 0xffff,
      priority2: 128,
      identity: BigInt(from),
    },
    stepsRemoved,
    sender,
    receiver: { clock: 15n, port: 1 },
  }));

describe('the data set comparison', () => {
  it('is a total order on distinct clocks', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(QUALITY, { selector: (one) => one.identity, minLength: 2, maxLength: 6 }),
        (clocks) => {
          const sorted = [...clocks].sort((a, b) => compareQualities(a, b).order);
          sorted.forEach((a, i) => {
            sorted.forEach((b, j) => {
              expect(Math.sign(compareQualities(a, b).order)).toBe(Math.sign(i - j));
              expect(Math.sign(compareQualities(b, a).order) + Math.sign(compareQualities(a, b).order)).toBe(0);
            });
          });
        },
      ),
    );
  });

  it('names the first value that differs', () => {
    fc.assert(
      fc.property(QUALITY, QUALITY, (a, b) => {
        fc.pre(a.identity !== b.identity);
        const keys = [
          'priority1',
          'clockClass',
          'clockAccuracy',
          'offsetScaledLogVariance',
          'priority2',
          'identity',
        ] as const;
        expect(compareQualities(a, b).step).toBe(keys.find((key) => a[key] !== b[key]));
      }),
    );
  });

  it('answers the other way round when asked the other way round', () => {
    const opposite = { first: 'second', second: 'first', neither: 'neither' } as const;
    fc.assert(
      fc.property(HEARD, HEARD, (a, b) => {
        const there = compareDataSets(a, b);
        const back = compareDataSets(b, a);
        expect(back).toEqual({ ...there, better: opposite[there.better] });
      }),
    );
  });

  it('has no circles among what one port hears', () => {
    fc.assert(
      fc.property(HEARD, HEARD, HEARD, (a, b, c) => {
        fc.pre(compareDataSets(a, b).better === 'first' && compareDataSets(b, c).better === 'first');
        expect(compareDataSets(a, c).better).not.toBe('second');
      }),
      { numRuns: 2000 },
    );
  });
});

describe('the election', () => {
  it('does not hang on the order in which clocks are listed', () => {
    fc.assert(
      fc.property(
        RANDOM_SET.chain((set) =>
          fc.tuple(
            fc.constant(clocksOf(set)),
            fc.shuffledSubarray(
              clocksOf(set).map((_, index) => index),
              { minLength: Object.keys(set).length },
            ),
          ),
        ),
        ([clocks, order]) => {
          const shuffled = order.flatMap((index) => clocks[index] ?? []);
          expect(told(elect(shuffled).outcomes.values())).toEqual(told(elect(clocks).outcomes.values()));
        },
      ),
    );
  });

  it('settles, in no more rounds than a chain of boundary clocks and two', () => {
    fc.assert(
      fc.property(RANDOM_SET, (set) => {
        const { rounds, settled } = elect(clocksOf(set));
        expect(settled).toBe(true);
        // One round more finds that nothing changed.
        expect(rounds).toBeLessThanOrEqual(Object.values(set).filter((wish) => wish.boundary === true).length + 4);
      }),
      { numRuns: 500 },
    );
  });

  it('ends where rounds from an empty state end, mostly without them', () => {
    let spared = 0;
    let all = 0;
    fc.assert(
      fc.property(RANDOM_SET, (set) => {
        const clocks = clocksOf(set);
        const quick = elect(clocks);
        const slow = electFromNothing(clocks);
        expect(told(quick.outcomes.values())).toEqual(told(slow.outcomes.values()));
        all++;
        if (quick.rounds < slow.rounds) spared++;
      }),
      { numRuns: 2000 },
    );
    expect(spared / all).toBeGreaterThan(0.5);
  });

  /** IEEE 1588-2008 9.3.3: only a class of 127 or lower keeps a clock from following the best. */
  it('takes the least of all where every class may follow, with the fewest boundary clocks between', () => {
    fc.assert(
      fc.property(RANDOM_SET, (set) => {
        const clocks = clocksOf(
          Object.fromEntries(
            Object.entries(set).map(([name, wish]) => [
              name,
              {
                ...wish,
                clockClass: Math.max(187, wish.clockClass ?? 248),
                priority1: wish.slaveOnly === true ? 255 : (wish.priority1 ?? 128),
              },
            ]),
          ),
        );
        const { outcomes } = elect(clocks);
        for (const island of islandsOf(clocks)) {
          const able = island
            .filter((clock) => !clock.slaveOnly)
            .sort((a, b) => compareQualities(a.quality, b.quality).order);
          const [least] = able;
          if (least === undefined) continue;
          const far = distances(least, island);
          for (const clock of island) {
            expect(outcomes.get(clock)?.grandmaster.name).toBe(least.name);
            expect(outcomes.get(clock)?.stepsRemoved).toBe(far.get(clock));
          }
          const why = reasonOf(least, island);
          expect(why?.rival.name).toBe(able[1]?.name);
          expect(why?.rivalIsBetter ?? false).toBe(false);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('has one master port on every path where nobody is slave-only and every port listens', () => {
    fc.assert(
      fc.property(RANDOM_SET, (set) => {
        const clocks = clocksOf(
          Object.fromEntries(Object.entries(set).map(([name, wish]) => [name, { ...wish, slaveOnly: false }])),
        );
        const { outcomes } = elect(clocks);
        const masters = new Map<number, number>();
        for (const { clock, ports } of outcomes.values()) {
          clock.ports.forEach(({ path }, index) =>
            masters.set(path, (masters.get(path) ?? 0) + (ports[index]?.state === 'master' ? 1 : 0)),
          );
        }
        expect([...masters.values()].every((count) => count === 1)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it('leaves a slave-only clock without time whose own values beat the leader', () => {
    const clocks = clocksOf({ a: { id: 1, on: ['x'], slaveOnly: true, priority1: 10 }, b: { id: 2, on: ['x'] } });
    expect(told(elect(clocks).outcomes.values())).toEqual({ a: 'listening', b: 'master' });
  });

  it('lets a clock with a foot on each leg follow one and pass nothing on', () => {
    const clocks = clocksOf({
      g: { id: 1, on: ['red'], clockClass: 6 },
      two: { id: 5, on: ['red', 'blue'] },
      camera: { id: 9, on: ['blue'], slaveOnly: true },
    });
    expect(told(elect(clocks).outcomes.values())).toEqual({
      g: 'master',
      two: 'g 1: slave passive',
      camera: 'listening',
    });
    const both = clocksOf({
      g: { id: 1, on: ['red', 'blue'], clockClass: 6 },
      camera: { id: 9, on: ['red', 'blue'], slaveOnly: true },
    });
    expect(told(elect(both).outcomes.values())).toEqual({ g: 'master master', camera: 'g 1: slave listening' });
  });

  it('keeps a second port on one path silent', () => {
    const clocks = clocksOf({ u: { id: 1, on: ['x', 'x', 'y'], boundary: true }, f: { id: 2, on: ['x'] } });
    expect(told(elect(clocks).outcomes.values())).toEqual({ u: 'master passive master', f: 'u 1: slave' });
  });

  it('stays fast where thousands share one path', () => {
    const sharing = (count: number): ReturnType<typeof clocksOf> =>
      clocksOf(
        Object.fromEntries(Array.from({ length: count }, (_, index) => [`c${index}`, { id: index, on: ['x'] }])),
      );
    const { outcomes } = elect(sharing(20_000));
    expect([...outcomes.values()].filter((one) => one.parent?.clock.name === 'c0')).toHaveLength(19_999);
    expect(growth(20_000, sharing, elect)).toBeLessThan(LINEAR);
  });
});

/** Steps by breadth first search over paths: a clock that relays is one step, every other the end. */
function distances(from: Made, clocks: readonly Made[]): ReadonlyMap<Made, number> {
  const found = new Map<Made, number>([[from, 0]]);
  for (const [clock, steps] of found) {
    if (clock !== from && !clock.relays) continue;
    for (const { path } of clock.ports)
      for (const other of clocks) {
        if (!found.has(other) && other.ports.some((port) => port.path === path)) found.set(other, steps + 1);
      }
  }
  return found;
}
