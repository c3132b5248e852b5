/**
 * What is lost carries no Announce: `clocks --lose` says of a box the same as `clocks` of a plan that does not have it. Over
 * random networks of plain switches, boundary clocks, and transparent clocks, which are switches or devices.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { electClocks } from '../../src/answers/clocks.js';
import { loadPlan } from '../../src/plan/load.js';
import { clocksJson } from '../../src/report/clocks/json.js';

interface Rig {
  readonly switches: readonly {
    readonly up: number;
    readonly also: number | null;
    readonly kind: 'plain' | 'boundary' | 'e2e-transparent';
  }[];
  readonly boxes: readonly { readonly on: number; readonly follows: boolean; readonly blue: number | null }[];
  /** Devices that pass PTP from one switch to another. */
  readonly passing: readonly (readonly [number, number])[];
}

const RIG: fc.Arbitrary<Rig> = fc.record({
  switches: fc.array(
    fc.record({
      up: fc.nat(4),
      also: fc.option(fc.nat(4)),
      kind: fc.constantFrom<Rig['switches'][number]['kind'][]>('plain', 'plain', 'boundary', 'e2e-transparent'),
    }),
    { minLength: 2, maxLength: 4 },
  ),
  boxes: fc.array(fc.record({ on: fc.nat(4), follows: fc.boolean(), blue: fc.option(fc.nat(4)) }), {
    minLength: 2,
    maxLength: 5,
  }),
  passing: fc.array(fc.tuple(fc.nat(4), fc.nat(4)), { maxLength: 2 }),
});

const id = (n: number): string => `02-00-00-FF-FE-00-00-${n}`;

function planOf({ switches, boxes, passing }: Rig, without?: string): object {
  const count = switches.length;
  const links = switches
    .flatMap(({ up, also }, n) =>
      n === 0 ? [] : [[up % n, n, 50 + n] as const, ...(also === null ? [] : [[also % n, n, 60 + n] as const])],
    )
    .filter(([a, b]) => without !== `sw-${a}` && without !== `sw-${b}`);
  const at = (on: number, port: number, vlan: string, name = vlan) => ({
    name,
    vlan,
    port: `sw-${on % count}/${port}`,
  });
  const devices = [
    ...boxes.map(({ on, follows, blue }, n) => ({
      name: `box-${n}`,
      ptp: {
        domain: 127,
        clockIdentity: id(10 + n),
        ...(n < 2 ? { priority1: 10, priority2: n, clockClass: 6 } : follows ? { slaveOnly: true } : {}),
      },
      interfaces: [at(on, 1 + n, 'red'), ...(blue === null ? [] : [at(blue, 21 + n, 'blue')])],
    })),
    ...passing.map(([a, b], n) => ({
      name: `tap-${n}`,
      ptp: { mode: 'e2e-transparent', domain: 127 },
      interfaces: [at(a, 11 + n, 'red', 'a'), at(b, 14 + n, 'red', 'b')],
    })),
  ];
  return {
    rig: 'Heron',
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'blue', role: 'media', leg: 2 },
    ],
    vlans: [
      { name: 'red', id: 10, network: 'red' },
      { name: 'blue', id: 20, network: 'blue' },
    ],
    switches: switches
      .map(({ kind }, n) => ({
        name: `sw-${n}`,
        ...(kind === 'plain'
          ? {}
          : { ptp: { mode: kind, domain: 127, ...(kind === 'boundary' ? { clockIdentity: id(70 + n) } : {}) } }),
        ports: [
          { name: '1-19', access: 'red' },
          { name: '20-29', access: 'blue' },
          ...links.flatMap(([a, b, port]) =>
            a === n || b === n ? [{ name: String(port), trunk: ['red', 'blue'] }] : [],
          ),
        ],
      }))
      .filter(({ name }) => name !== without),
    links: links.map(([a, b, port]) => ({ name: `L${port}`, ends: [`sw-${a}/${port}`, `sw-${b}/${port}`] })),
    timing: { domains: [{ number: 127, grandmasters: ['box-0', 'box-1'] }] },
    devices: devices
      .filter(({ name }) => name !== without)
      .map((one) => ({
        ...one,
        interfaces: one.interfaces.filter(({ port }) => without === undefined || !port.startsWith(`${without}/`)),
      })),
  };
}

interface State {
  readonly domains: readonly { readonly settled: boolean }[];
  readonly clocks: readonly { readonly name: string; readonly standing: string; readonly grandmaster: string }[];
}

function printed(rig: Rig, lost: { readonly gone?: string; readonly lose?: string }): State {
  const loaded = loadPlan([{ name: 'plan.json', text: JSON.stringify(planOf(rig, lost.gone)) }]);
  const result = electClocks(loaded, { lose: lost.lose });
  if (!('timing' in result) || loaded.problems.length > 0) throw new Error('the plan can not be read');
  const document = clocksJson(result, '0') as State & { readonly asked: readonly State[] };
  return document.asked[0] ?? document;
}

/** A switch whose neighbour is gone has a port and nobody on it, which is as much as none. */
const standings = ({ clocks }: State): readonly string[] =>
  clocks.map(({ name, standing, grandmaster }) => `${name} ${standing === 'off' ? 'alone' : standing} ${grandmaster}`);

it('says of a lost box what it says of a plan without it', () => {
  let [asked, led] = [0, 0];
  fc.assert(
    fc.property(RIG, (rig) => {
      const names = [...rig.switches.map((_, n) => `sw-${n}`), ...rig.passing.map((_, n) => `tap-${n}`)];
      for (const gone of names) {
        const without = printed(rig, { gone });
        if (without.domains.some(({ settled }) => !settled)) continue;
        const expected = standings(without);
        expect(standings(printed(rig, { lose: gone })), gone).toEqual(expected);
        asked++;
        if (expected.some((one) => one.includes(' follows '))) led++;
      }
    }),
    { numRuns: 120 },
  );
  expect(asked).toBeGreaterThan(200);
  expect(led).toBeGreaterThan(60);
});
