/** Rigs made by hand: what a plane forwards must be what is written out, and what `carriedBy` says. See README.md beside this file. */
import { isDeepStrictEqual } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { skipped } from '../tools/outside.js';
import { benchOf } from './bench.js';
import { CASES as BRIDGED, type Case } from './cases.js';
import { goEitherWay } from './either-way.js';
import { LABS_AT_ONCE, sideBySide } from './lab.js';
import { MLD } from './mld.js';
import { LINUX_SWITCH, OPEN_VSWITCH, planeOf, PLANES, type ShortHost, type ShortRig } from './rigs.js';
import { TAGGED } from './tagged.js';
import { modelled, observeUntil, resolve, whyNoPlane, type Bench, type Observed } from './twin.js';

/** Three runs of two labs in turn on a machine that has much else to do; one takes ten to twenty seconds. */
const LONGEST_MS = 1_020_000;

const CASES = [...BRIDGED, ...MLD, ...TAGGED];
const seen = new Map<Case, Observed>();

beforeAll(async () => {
  const runnable = PLANES.filter((plane) => whyNoPlane(plane) === undefined);
  await sideBySide(runnable, LABS_AT_ONCE, async (plane) => {
    const cases = CASES.filter(({ rig }) => planeOf(rig) === plane);
    const found = await observeUntil(
      (index, { pictures }) =>
        isDeepStrictEqual(
          pictures,
          cases[index]?.stages.map(({ kernel }) => kernel),
        ),
      cases.map(({ rig, extras }) => benchFor(rig, extras)),
    );
    found.forEach((one, index) => {
      const about = cases[index];
      if (about !== undefined) seen.set(about, one);
    });
  });
}, LONGEST_MS);

describe.each(PLANES)('rigs made by hand on %s', (plane) => {
  const reason = whyNoPlane(plane);
  it
    .skipIf(reason !== undefined)
    .each(
      CASES.filter(({ rig }) => planeOf(rig) === plane).map((one) => [`${one.title}${skipped(reason)}`, one] as const),
    )('%s', (_, one) => {
    expect(seen.get(one)?.error).toBeUndefined();
    expect(seen.get(one)?.pictures).toEqual(one.stages.map(({ kernel }) => kernel));
  });
});

describe('the model of the same rigs', () => {
  it.each(CASES.map((one) => [one.title, one] as const))('%s', (_, { rig, stages }) => {
    for (const { kernel, model = rig } of stages) {
      if (model === 'differs') expect(modelled(resolve(rig))).not.toEqual(kernel);
      else expect(modelled(resolve(model))).toEqual(kernel);
    }
  });
});

describe('streams that a Linux bridge carries or not, by the order of reports', () => {
  const key = 'cam/239.1.1.1';
  const host = (name: string, at: string, number: number, receives: ShortHost['receives'] = []): ShortHost => ({
    name,
    at,
    address: `10.0.0.${number}`,
    receives,
  });
  const stated = [{ takes: key, join: 'stated' }] as const;
  const any = [{ group: '239.1.1.1' }] as const;
  const rig = (hosts: readonly ShortHost[]): ShortRig => ({
    vlans: { red: { queriers: [{ on: 'core', address: '10.0.250.1' }] } },
    switches: ['core', 'far'],
    links: [{ between: ['core', 'far'] }],
    hosts: [{ ...host('cam', 'core', 2), sends: ['239.1.1.1'] }, ...hosts],
  });
  const found = (hosts: readonly ShortHost[]): readonly string[] => [...goEitherWay(resolve(rig(hosts)))];

  it('any source and one of them behind one port, that one alone behind another', () => {
    expect(found([host('a', 'far', 3, any), host('b', 'far', 4, stated), host('c', 'core', 5, stated)])).toEqual([key]);
  });
  it.each([
    ['nobody alone', [host('a', 'far', 3, any), host('b', 'far', 4, stated)]],
    ['each behind a port of its own', [host('a', 'far', 3, any), host('c', 'core', 5, stated)]],
    [
      'both from one host, which then takes any',
      [host('a', 'far', 3, [...any, ...stated]), host('c', 'core', 5, stated)],
    ],
    ['nobody takes any', [host('b', 'far', 4, stated), host('c', 'core', 5, stated)]],
  ] as const)('not: %s', (_, hosts) => {
    expect(found(hosts)).toEqual([]);
  });
});

describe('plans that say something else of a switch than what a plane does are refused', () => {
  const bridged = BRIDGED[0]?.rig ?? { vlans: {}, switches: [], links: [], hosts: [] };
  it.each([
    ['snoopingKey', 'mac'],
    ['snoopingKey', 'group'],
    ['noQuerier', 'prune'],
    ['unregistered', 'flood'],
  ] as const)('Linux, %s: %s', (key, value) => {
    expect(() => benchOf(resolve(bridged))).not.toThrow();
    expect(() => benchOf(resolve(bridged, { ...LINUX_SWITCH, [key]: value }))).toThrow(/a Linux bridge/);
  });

  const tagged = TAGGED[0]?.rig ?? bridged;
  it.each([
    ['snoopingKey', 'source-group'],
    ['noQuerier', 'flood'],
    ['groupTableSize', 100],
  ] as const)('Open vSwitch, %s: %s', (key, value) => {
    const build = (about: object): unknown => benchOf(resolve(tagged, about), {}, 'openvswitch');
    expect(() => build(OPEN_VSWITCH)).not.toThrow();
    expect(() => build({ ...OPEN_VSWITCH, [key]: value })).toThrow(/Open vSwitch|full table/);
  });
});

function benchFor(rig: ShortRig, extras?: Case['extras']): Bench {
  const plan = resolve(rig);
  return { plan, spec: benchOf(plan, extras, planeOf(rig)) };
}
