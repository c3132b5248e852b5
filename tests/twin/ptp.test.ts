/**
 * The election model beside running daemons (linuxptp's ptp4l): the known cases and random clock sets, first whole, then
 * with the grandmaster killed. Port states, parents, grandmasters and steps must be those predicted.
 */
import fc from 'fast-check';
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { elect, type ClockOutcome } from '../../src/model/timing/election.js';
import { clocksOf, RANDOM_SET, type Made, type Wish } from '../tools/election-sets.js';
import { skipped } from '../tools/outside.js';
import { Lab, LABS_AT_ONCE, sideBySide, whyNoLab } from './lab.js';
import { PtpLab, shownIdentity, type LabSet, type Seen } from './ptp-lab.js';

const GNSS = { clockClass: 6, clockAccuracy: 0x21 };
const A = { id: 0x0a, on: ['x'] };
const B = { id: 0x0b, on: ['x'] };
const C = { id: 0x0c, on: ['x'] };
const G = { id: 0x10, on: ['top'], ...GNSS, priority1: 10 };
const H = { id: 0x11, on: ['top'], ...GNSS, priority1: 20 };
const U = { id: 0x50, on: ['top', 'middle'], boundary: true };
const V = { id: 0x60, on: ['middle', 'edge'], boundary: true };
const F = { id: 0x70, on: ['middle'] };
const K = { id: 0x80, on: ['edge'] };
const EQUALS = { g: { ...G, priority1: 128 }, h: { ...H, priority1: 128 } };

const KNOWN: Readonly<Record<string, LabSet>> = {
  A: { a: A, b: B, c: C },
  B: { a: A, b: { ...B, priority1: 127 }, c: { ...C, clockClass: 6 } },
  C: { a: A, b: { ...B, clockClass: 7, clockAccuracy: 0x21 }, c: { ...C, clockClass: 6, clockAccuracy: 0x23 } },
  D: { a: A, b: { ...B, ...GNSS, priority2: 127 }, c: { ...C, ...GNSS, priority2: 126 } },
  E: {
    a: A,
    b: { ...B, clockClass: 6, clockAccuracy: 0x20, priority2: 255 },
    c: { ...C, ...GNSS, offsetScaledLogVariance: 0x4e5d, priority2: 1 },
  },
  F: { a: { ...A, slaveOnly: true }, b: { ...B, slaveOnly: true }, c: { ...C, slaveOnly: true } },
  G: { a: A, b: { ...B, domain: 127 }, c: { ...C, clockClass: 6 } },
  H: { g: G, h: H, u: U, v: V, f: F, k: K },
  I: { ...EQUALS, u: U, v: V, f: F, k: { ...K, priority1: 127 } },
  J: { ...EQUALS, u: U, v: { ...V, on: ['middle', 'edge!'] }, f: F, k: { ...K, priority1: 127 } },
  K: { ...EQUALS, u: { ...U, on: ['top', 'middle!'] }, v: V, f: { ...F, priority1: 127 }, k: K },
  L: { a: A, b: B, g: { ...G, on: ['x'], clockClass: 248 }, h: { ...H, on: ['x'], priority1: 128 } },
  M: {
    g: G,
    u: { ...U, on: ['top', 'left'] },
    v: { ...V, on: ['top', 'right'] },
    w: { id: 0x70, on: ['left', 'right'], boundary: true },
  },
  N: { g: G, v: { ...V, on: ['top', 'right'] }, w: { id: 0x70, on: ['top', 'right'], boundary: true } },
  O: { g: G, u: { ...U, clockClass: 6 }, f: F },
  P: { g: G, u: { ...U, clockClass: 187 }, f: F },
  Q: { g: { ...G, clockClass: 52 }, u: { ...U, priority1: 20, clockClass: 6 }, f: F },
  'R (a peer-to-peer follower under an end-to-end leader)': {
    g: { ...G, on: ['x'] },
    a: { ...A, delayMechanism: 'P2P' },
    b: B,
  },
  'S (a slave-only clock that outranks the leader)': { a: { ...A, slaveOnly: true, priority1: 10 }, b: B },
  'T (a ring of boundary clocks)': {
    g: G,
    u: { ...U, on: ['top', 'left'] },
    v: { ...V, on: ['left', 'right'] },
    w: { id: 0x70, on: ['right', 'top'], boundary: true },
  },
};

/** Every third set has its ordinary clocks in two domains; boundary clocks stay in the first and keep the other apart. */
const RANDOM: readonly LabSet[] = fc
  .sample(RANDOM_SET, { numRuns: 64, seed: 2059 })
  .map((set, index) => (index % 3 === 0 ? inTwoDomains(set) : set));

function inTwoDomains(set: Readonly<Record<string, Wish>>): LabSet {
  return Object.fromEntries(
    Object.entries(set).map(([name, wish], index) => [
      name,
      { ...wish, domain: wish.boundary === true ? 0 : index % 2 },
    ]),
  );
}

const SETS: readonly LabSet[] = [...Object.values(KNOWN), ...RANDOM];
const NAMES = [...Object.keys(KNOWN).map((name) => `case ${name}`), ...RANDOM.map((_, index) => `random set ${index}`)];

interface Expected {
  readonly states: readonly string[];
  readonly parent: string;
  readonly grandmaster: string;
  readonly stepsRemoved: number;
}

/** The prediction in the daemon's words. A free-running follower stays UNCALIBRATED; its choice of parent is the same. */
function predicted(set: LabSet, without: string | undefined): Readonly<Record<string, Expected>> {
  const standing = Object.fromEntries(Object.entries(set).filter(([name]) => name !== without));
  const domains = new Set(Object.values(standing).map((wish) => wish.domain ?? 0));
  const named = new Map(clocksOf(standing).map((clock) => [clock.name, clock]));
  const outcomes = [...domains].flatMap((domain) => {
    const own = Object.entries(standing).flatMap(([name, wish]) =>
      (wish.domain ?? 0) === domain ? (named.get(name) ?? []) : [],
    );
    return [...elect(own).outcomes.values()];
  });
  return Object.fromEntries(outcomes.map((one) => [one.clock.name, expectedOf(one)]));
}

function expectedOf({ clock, ports, parent, grandmaster, stepsRemoved }: ClockOutcome<Made>): Expected {
  return {
    states: ports.map(({ state }) => state.toUpperCase()),
    parent: shownIdentity((parent?.clock ?? clock).quality.identity),
    grandmaster: shownIdentity(grandmaster.quality.identity),
    stepsRemoved,
  };
}

function plain(seen: Seen | undefined): Seen | undefined {
  return seen === undefined
    ? undefined
    : { ...seen, states: seen.states.map((state) => (state === 'UNCALIBRATED' ? 'SLAVE' : state)) };
}

/** The grandmaster most clocks follow, in sets without rings: there a dead one's Announces circle for half a minute. */
function toKill(set: LabSet): string | undefined {
  const ways = Object.values(set)
    .filter((wish) => wish.boundary === true)
    .map((wish) => wish.on.map((text) => text.replace(/!$/, '')));
  if (ways.length >= new Set(ways.flat()).size && ways.length > 0) return undefined;
  const followers = new Map<string, number>();
  for (const { parent, grandmaster, clock } of elect(
    clocksOf(Object.fromEntries(Object.entries(set).filter(([, wish]) => (wish.domain ?? 0) === 0))),
  ).outcomes.values()) {
    if (parent !== undefined && clock !== grandmaster)
      followers.set(grandmaster.name, (followers.get(grandmaster.name) ?? 0) + 1);
  }
  return [...followers].sort((a, b) => b[1] - a[1])[0]?.[0];
}

const missing = whyNoLab('ptp4l', 'pmc');

/** Sets that run at one time: more would starve the daemons, and a starved daemon misses Announces. */
const WAVE = 18;
/** Seconds before the first look, and in which the daemons of a wave must have settled after it. */
const FIRST_LOOK_S = 3;
const PATIENCE_S = 60;
/** For all of it: a machine too busy for the daemons fails, it does not hang. */
const LONGEST_MS = 600_000;

type Reading = Readonly<Record<string, Seen | undefined>>;

/** Reads every set until it is as predicted twice running, or the time is up; the last reading is what counts. */
async function settle(
  lab: PtpLab,
  wave: readonly LabSet[],
  without: readonly (string | undefined)[],
): Promise<readonly Reading[]> {
  await sleep(FIRST_LOOK_S * 1000);
  const end = Date.now() + PATIENCE_S * 1000;
  const readings: Reading[] = wave.map(() => ({}));
  const agreed = new Set<number>();
  let open = wave.map((_, index) => index);
  while (open.length > 0) {
    await Promise.all(
      open.map(async (index) => {
        readings[index] = await lab.read(index);
      }),
    );
    const next = open.filter((index) => {
      const agrees = matches(readings[index], predicted(wave[index] ?? {}, without[index]));
      const twice = agrees && agreed.has(index);
      if (agrees) agreed.add(index);
      else agreed.delete(index);
      return !twice;
    });
    open = Date.now() > end ? [] : next;
    if (open.length > 0) await sleep(250);
  }
  return readings;
}

describe.skipIf(missing !== undefined)(`elections of linuxptp daemons${skipped(missing)}`, () => {
  const whole: Reading[] = SETS.map(() => ({}));
  const killed: Reading[] = SETS.map(() => ({}));
  const victims = SETS.map(toKill);

  beforeAll(async () => {
    const waves = Array.from({ length: Math.ceil(SETS.length / WAVE) }, (_, index) => index * WAVE);
    await sideBySide(waves, LABS_AT_ONCE, (first) =>
      Lab.with(async (room) => {
        const wave = SETS.slice(first, first + WAVE);
        const lost = victims.slice(first, first + WAVE);
        const lab = new PtpLab(room, wave);
        await lab.start();
        whole.splice(first, wave.length, ...(await settle(lab, wave, [])));
        lost.forEach((name, index) => {
          if (name !== undefined) lab.kill(index, name);
        });
        killed.splice(first, wave.length, ...(await settle(lab, wave, lost)));
      }),
    );
  }, LONGEST_MS);

  it('try at least sixty random sets, boundary clocks, two domains and followers among them', () => {
    expect(RANDOM.length).toBeGreaterThanOrEqual(60);
    const all = RANDOM.flatMap((set) => Object.values(set));
    expect(
      all.some((wish) => wish.boundary === true) &&
        all.some((wish) => wish.slaveOnly === true) &&
        all.some((wish) => wish.domain === 1),
    ).toBe(true);
    expect(victims.filter((name) => name !== undefined).length).toBeGreaterThan(30);
  });

  it.each(NAMES.map((name, index) => [name, index] as const))('%s', (_, index) => {
    compare(whole[index], predicted(SETS[index] ?? {}, undefined));
  });

  const after = NAMES.flatMap((name, index) =>
    victims[index] === undefined ? [] : [[name, victims[index], index] as const],
  );
  it.each(after)('%s without %s', (_, victim, index) => {
    compare(killed[index], predicted(SETS[index] ?? {}, victim));
  });
});

function matches(
  seen: Readonly<Record<string, Seen | undefined>> | undefined,
  wanted: Readonly<Record<string, Expected>>,
): boolean {
  return Object.entries(wanted).every(
    ([name, one]) => JSON.stringify(plain(seen?.[name])) === JSON.stringify(comparable(one, seen?.[name])),
  );
}

function compare(
  seen: Readonly<Record<string, Seen | undefined>> | undefined,
  wanted: Readonly<Record<string, Expected>>,
): void {
  for (const [name, one] of Object.entries(wanted))
    expect(plain(seen?.[name]), name).toEqual(comparable(one, seen?.[name]));
}

/** A daemon that listens keeps the parent it last had, so only its port states tell. */
function comparable(one: Expected, seen: Seen | undefined): Expected {
  return one.states.every((state) => state === 'LISTENING') && seen !== undefined
    ? { ...seen, states: one.states }
    : one;
}
