/**
 * Lint says what `clocks` says: whatever that prints as on a time of its own, waiting, led by a clock that is not meant to
 * lead, or such a leader itself, stands in a finding of the clocks, or the one it follows does; and where it prints nothing
 * of the kind those rules are silent. Over random trees of plain switches and boundary clocks with all the slips that bring
 * it about. What is odd is read off the document that `clocks --format json` prints; of the rules only parties are asked.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { electClocks } from '../../src/answers/clocks.js';
import { lintPlan } from '../../src/lint/run.js';
import { loadPlan } from '../../src/plan/load.js';
import { clocksJson } from '../../src/report/clocks/json.js';
import { carryOutEach } from '../tools/cures.js';

interface Box {
  readonly on: number;
  readonly domain: number;
  readonly follows: boolean;
  readonly priority1: number;
  readonly clockClass: number;
}

interface Rig {
  readonly switches: readonly {
    readonly up: number;
    readonly carries: boolean;
    readonly kind: 'plain' | 'clock' | 'other domain' | 'only follows';
    readonly priority1: number;
    readonly clockClass: number;
    /** Ports that only lead: to the switch above, and the first three for devices. */
    readonly leadsOnly: readonly ('up' | 1 | 2 | 3)[];
  }[];
  readonly places: readonly [number, number];
  readonly second: number;
  readonly boxes: readonly Box[];
  /** Whether the rig plans domain 0, and wants a clock to lead it. */
  readonly zero: 'no' | 'planned' | 'led';
}

const often = <T>(usual: T, ...rare: readonly T[]): fc.Arbitrary<T> =>
  fc.oneof({ weight: 6, arbitrary: fc.constant(usual) }, { weight: 1, arbitrary: fc.constantFrom(...rare) });

const RIG: fc.Arbitrary<Rig> = fc.record({
  switches: fc.array(
    fc.record({
      up: fc.nat(3),
      carries: fc.constantFrom(true, true, true, false),
      kind: fc.constantFrom<Rig['switches'][number]['kind'][]>(
        ...(['clock', 'clock', 'clock', 'clock', 'clock'] as const),
        ...(['plain', 'plain', 'plain', 'other domain', 'only follows'] as const),
      ),
      priority1: often(100, 5, 128),
      clockClass: often(248, 6, 7),
      leadsOnly: often<readonly ('up' | 1 | 2 | 3)[]>([], ['up'], [1], [1, 2], [3], ['up', 3]),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  places: fc.tuple(fc.nat(3), fc.nat(3)),
  second: often(10, 20, 130),
  boxes: fc.array(
    fc.record({
      on: fc.nat(3),
      domain: often(127, 0),
      follows: often(true, false),
      priority1: often(128, 9, 255),
      clockClass: often(248, 6, 255),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  zero: fc.constantFrom('no', 'planned', 'led'),
});

const id = (n: number): string => `02-00-00-FF-FE-00-00-${String(n).padStart(2, '0')}`;

function planOf({ switches, places, second, boxes, zero }: Rig): object {
  const count = switches.length;
  const upOf = (n: number): number => (switches[n]?.up ?? 0) % n;
  const grandmasters = ['gm-1', 'gm-2'].map((name, n) => ({
    name,
    on: places[n] ?? 0,
    ptp: { domain: 127, priority1: n === 0 ? 10 : second, priority2: n + 1, clockClass: 6, clockAccuracy: 33 },
  }));
  const audio = {
    name: 'audio-gm',
    on: places[0],
    ptp: { domain: 0, priority1: 10, clockClass: 6, clockAccuracy: 33 },
  };
  const devices = [
    ...grandmasters,
    ...(zero === 'led' ? [audio] : []),
    ...boxes.map(({ on, domain, follows, priority1, clockClass }, n) => ({
      name: `box-${n + 1}`,
      on,
      ptp: { domain, priority1, clockClass, ...(follows ? { slaveOnly: true } : {}) },
    })),
  ];
  const seen = new Map<number, number>();
  return {
    rig: 'Heron',
    networks: [{ name: 'red', role: 'media', leg: 1 }],
    vlans: [
      { name: 'clocks', id: 10, network: 'red' },
      { name: 'other', id: 20, network: 'red' },
    ],
    switches: switches.map(({ kind, priority1, clockClass, leadsOnly }, n) => ({
      name: `sw-${n}`,
      ...(kind === 'plain'
        ? {}
        : {
            ptp: {
              mode: 'boundary',
              domain: kind === 'other domain' ? 0 : 127,
              priority1,
              clockClass,
              clockIdentity: id(60 + n),
              ...(kind === 'only follows' ? { slaveOnly: true } : {}),
              masterOnly: leadsOnly.flatMap((one) =>
                one === 'up' ? (n === 0 ? [] : [String(50 + n)]) : [String(one)],
              ),
            },
          }),
      ports: [
        { name: '1-9', access: 'clocks' },
        ...switches.flatMap(({ carries }, m) =>
          m > 0 && (m === n || upOf(m) === n)
            ? [{ name: String(50 + m), trunk: carries ? ['other', 'clocks'] : ['other'] }]
            : [],
        ),
      ],
    })),
    links: switches.flatMap((_, n) =>
      n === 0 ? [] : [{ name: `L${n}`, ends: [`sw-${upOf(n)}/${50 + n}`, `sw-${n}/${50 + n}`] }],
    ),
    timing: {
      domains: [
        { number: 127, grandmasters: ['gm-1', 'gm-2'] },
        ...(zero === 'no' ? [] : [{ number: 0, ...(zero === 'led' ? { grandmasters: ['audio-gm'] } : {}) }]),
      ],
    },
    devices: devices.map(({ name, on, ptp }, n) => {
      const at = on % count;
      const port = (seen.get(at) ?? 0) + 1;
      seen.set(at, port);
      return {
        name,
        ptp: { ...ptp, clockIdentity: id(10 + n) },
        interfaces: [{ name: 'red', vlan: 'clocks', port: `sw-${at}/${port}` }],
      };
    }),
  };
}

/** As much of the document of `clocks` as says who is on what time. */
interface Printed {
  readonly domains: readonly {
    readonly settled: boolean;
    readonly islands: readonly {
      readonly clocks: readonly string[];
      readonly leaders: readonly { readonly clock: string; readonly why: { readonly rivalIsBetter: boolean } | null }[];
    }[];
  }[];
  readonly clocks: readonly {
    readonly name: string;
    readonly standing: string;
    readonly grandmaster: string;
    readonly meantToLead: boolean;
    readonly slaveOnly: boolean;
    readonly mode: string;
    readonly ports: readonly unknown[];
  }[];
}

const inputsOf = (rig: Rig) => [{ name: 'plan.json', text: JSON.stringify(planOf(rig)) }];

function printedOf(rig: Rig): Printed {
  const result = electClocks(loadPlan(inputsOf(rig)));
  if (!('timing' in result) || result.problems.length > 0) throw new Error('the plan can not be read');
  return clocksJson(result, '0') as Printed;
}

/** Names of clocks that are on no time of a clock meant to lead. */
function oddClocks({ clocks, domains }: Printed): readonly Printed['clocks'][number][] {
  const meant = new Set(clocks.filter(({ meantToLead }) => meantToLead).map(({ name }) => name));
  const moving = new Set(
    domains.filter(({ settled }) => !settled).flatMap(({ islands }) => islands.flatMap((one) => one.clocks)),
  );
  return clocks.filter(({ name, standing, grandmaster, meantToLead, ports }) => {
    if (moving.has(name)) return false;
    if (standing === 'waits' || standing === 'outranks') return true;
    // A switch that nothing hangs on.
    if (standing === 'off') return ports.length > 0;
    return standing === 'follows' || standing === 'leads' ? !meant.has(grandmaster) : !meantToLead;
  });
}

const FAMILY = /^(?:links|timing|vlans)\//;
/** Rules that find nothing but clocks on a time of their own. */
const OF_ODD = [
  'timing/boundary-clock-blocks',
  'timing/follower-outranks',
  'timing/grandmaster-out-of-reach',
  'timing/no-grandmaster',
  'timing/own-time',
];

it('finds every clock that is on a time of its own, and none where there is none', () => {
  const met = new Map<string, number>();
  let clean = 0;
  fc.assert(
    fc.property(RIG, (rig) => {
      const printed = printedOf(rig);
      const odd = oddClocks(printed);
      const { findings } = lintPlan(loadPlan(inputsOf(rig)).plan, RULES, { today: '2026-06-01' });
      const named = new Set(findings.filter(({ rule }) => FAMILY.test(rule)).flatMap(({ parties }) => parties));
      const missed = odd.filter(({ name, grandmaster }) => !named.has(name) && !named.has(grandmaster));
      expect(missed.map(({ name, standing }) => `${name} ${standing}`)).toEqual([]);
      for (const { rule } of findings) met.set(rule, (met.get(rule) ?? 0) + 1);
      // A better one that is not heard, and a boundary clock that passes nothing on, are odd without a clock that is.
      const isDeaf = printed.domains.some(({ islands }) =>
        islands.some(({ leaders }) => leaders.some(({ why }) => why?.rivalIsBetter === true)),
      );
      const isIdle = printed.clocks.some(({ slaveOnly, mode }) => slaveOnly && mode === 'boundary');
      if (odd.length > 0 || isDeaf || isIdle) return;
      clean++;
      expect(findings.filter(({ rule }) => OF_ODD.includes(rule)).map(({ rule, subject }) => [rule, subject])).toEqual(
        [],
      );
    }),
    { numRuns: 300 },
  );
  // Else little was tried.
  expect(clean).toBeGreaterThan(30);
  for (const rule of OF_ODD) expect(met.get(rule) ?? 0, rule).toBeGreaterThan(0);
});

/** A rig without a fault but one. */
const ONE_SLIP: fc.Arbitrary<Rig> = fc
  .record({
    ups: fc.array(fc.nat(3), { minLength: 2, maxLength: 4 }),
    at: fc.nat(3),
    slip: fc.constantFrom(
      { kind: 'only follows' as const },
      { kind: 'only follows' as const, clockClass: 6, priority1: 5 },
      { leadsOnly: ['up'] as const },
      { leadsOnly: [1] as const },
      { clockClass: 6 },
    ),
    boxes: fc.array(fc.nat(3), { minLength: 1, maxLength: 4 }),
  })
  .map(({ ups, at, slip, boxes }) => ({
    switches: ups.map((up, n) => ({
      up,
      carries: true,
      kind: 'clock',
      priority1: 100,
      clockClass: 248,
      leadsOnly: [],
      ...(n === at % ups.length ? slip : {}),
    })),
    places: [0, 0],
    second: 10,
    boxes: boxes.map((on) => ({ on, domain: 127, follows: true, priority1: 255, clockClass: 255 })),
    zero: 'no',
  }));

it('cures what it offers to cure', () => {
  let cured = 0;
  fc.assert(
    fc.property(ONE_SLIP, (rig) => {
      const rules = ['timing/boundary-clock-blocks', 'timing/own-time'];
      for (const { failed, certainty } of carryOutEach(inputsOf(rig), '2026-06-01', ({ rule }) =>
        rules.includes(rule),
      )) {
        expect(failed).toBeUndefined();
        expect(certainty).toBe('likely');
        cured++;
      }
    }),
    { numRuns: 40 },
  );
  expect(cured).toBeGreaterThan(15);
});
