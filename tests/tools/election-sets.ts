/** Clock sets for elections, written short: an unstated value is IEEE 1588's default. */
import fc from 'fast-check';
import type { ClockQuality } from '../../src/model/timing/bmca.js';
import type { ElectionClock } from '../../src/model/timing/election.js';

export interface Made extends ElectionClock {
  readonly name: string;
}

export interface Wish extends Partial<Omit<ClockQuality, 'identity'>> {
  /** Last octet of the identity. */
  readonly id: number;
  /** Paths of its ports by name; a trailing `!` makes the port lead only. */
  readonly on: readonly string[];
  readonly boundary?: boolean;
  readonly slaveOnly?: boolean;
}

/** The identity linuxptp makes of MAC 02:00:00:00:00:xx. */
export function identityOf(lastOctet: number): bigint {
  return 0x020000fffe000000n + BigInt(lastOctet);
}

/** Clocks by name, on paths numbered by name. */
export function clocksOf(wishes: Readonly<Record<string, Wish>>): readonly Made[] {
  const paths = new Map<string, number>();
  const numberOf = (text: string): number => {
    const path = text.replace(/!$/, '');
    const known = paths.get(path) ?? paths.size;
    paths.set(path, known);
    return known;
  };
  return Object.entries(wishes).map(([name, wish]) => ({
    name,
    quality: {
      priority1: wish.priority1 ?? 128,
      clockClass: wish.slaveOnly === true ? 255 : (wish.clockClass ?? 248),
      clockAccuracy: wish.clockAccuracy ?? 0xfe,
      offsetScaledLogVariance: wish.offsetScaledLogVariance ?? 0xffff,
      priority2: wish.priority2 ?? 128,
      identity: identityOf(wish.id),
    },
    relays: wish.boundary ?? false,
    slaveOnly: wish.slaveOnly ?? false,
    ports: wish.on.map((text) => ({ path: numberOf(text), masterOnly: text.endsWith('!') })),
  }));
}

/** Two to seven clocks on up to four paths, ordinary, slave-only and boundary, of any rank; some in a ring. */
export const RANDOM_SET: fc.Arbitrary<Readonly<Record<string, Wish>>> = fc
  .record({
    ring: fc.boolean(),
    chain: fc.integer({ min: 0, max: 3 }),
    ids: fc.shuffledSubarray(
      Array.from({ length: 40 }, (_, index) => index + 1),
      { minLength: 12, maxLength: 12 },
    ),
  })
  .chain(({ chain, ids, ring }) => {
    const rank = {
      priority1: fc.constantFrom(10, 127, 128, 128, 128),
      clockClass: fc.constantFrom(6, 7, 52, 187, 248, 248),
      clockAccuracy: fc.constantFrom(0x20, 0x21, 0xfe),
      offsetScaledLogVariance: fc.constantFrom(0x4e5d, 0xffff),
      priority2: fc.constantFrom(1, 2, 128, 128),
    };
    const ordinary = fc.record({ ...rank, at: fc.nat(ring && chain > 1 ? chain - 1 : chain), slaveOnly: fc.boolean() });
    const boundary = fc.record(rank);
    return fc
      .record({
        boundaries: fc.array(boundary, { minLength: chain, maxLength: chain }),
        ordinaries: fc.array(ordinary, { minLength: 2, maxLength: 4 }),
      })
      .map(({ boundaries, ordinaries }): Readonly<Record<string, Wish>> => {
        const end = (index: number): string => (ring && chain > 1 && index === chain - 1 ? 'p0' : `p${index + 1}`);
        const made: readonly (readonly [string, Wish])[] = [
          ...boundaries.map(
            (one, index) =>
              [`bc${index}`, { ...one, id: ids[index] ?? 0, boundary: true, on: [`p${index}`, end(index)] }] as const,
          ),
          ...ordinaries.map(
            ({ at, ...one }, index) => [`oc${index}`, { ...one, id: ids[chain + index] ?? 0, on: [`p${at}`] }] as const,
          ),
        ];
        return Object.fromEntries(made);
      });
  });

/** Each clock's parent and port states, short enough to compare by eye: `follows g, steps 2, slave master`. */
export function told(
  outcomes: Iterable<{
    readonly clock: Made;
    readonly parent: { readonly clock: Made } | undefined;
    readonly stepsRemoved: number;
    readonly ports: readonly { readonly state: string }[];
  }>,
): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...outcomes].map(({ clock, parent, stepsRemoved, ports }) => {
      const states = ports.map((port) => port.state).join(' ');
      return [clock.name, parent === undefined ? states : `${parent.clock.name} ${stepsRemoved}: ${states}`];
    }),
  );
}
