/** Clocks of the examples, what followers put up with, and losses on random plans. */
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { fileURLToPath } from 'node:url';
import { loadPlan } from '../../src/plan/load.js';
import { createModel, type Model } from '../../src/model/model.js';
import { createConcerned } from '../../src/model/timing/concerned.js';
import { loseNow, namedLosses, takeoverTimes, type LossResult } from '../../src/model/timing/failover.js';
import { buildTimingBase, timingWithout, type TimingState } from '../../src/model/timing/timing.js';
import { readInputs } from '../../src/edge/files.js';
import { modelOf } from '../tools/network-plans.js';
import { effectWords } from '../../src/report/clocks/words.js';
import { plainText } from '../../src/page/phrase.js';
import { boundaries, chain } from '../tools/shape-plans.js';
import { tree, timingOf, GM, CAM } from '../tools/clock-plans.js';

describe('Kestrel Bay', () => {
  const modelAt = (name: string): Model => {
    const { inputs, problems } = readInputs([
      fileURLToPath(new URL(`../../examples/kestrel-bay/${name}`, import.meta.url)),
    ]);
    const { plan, problems: unread } = loadPlan(inputs, problems);
    expect(unread).toEqual([]);
    return createModel(plan);
  };

  it.each([
    ['heron', 'clock-201', 'clock-202', 'red-core', 'blue-core'],
    ['dunlin', 'clock-18', 'clock-19', 'fly-red-1', 'fly-blue-1'],
  ])('%s follows its first clock on red and on blue, then its second', (rig, first, second, red, blue) => {
    const { timing } = modelAt(rig);
    expect(timing.groups).toHaveLength(1);
    const [island, ...others] = timing.groups[0]?.islands ?? [];
    expect(others).toEqual([]);
    expect(island?.leaders.map((one) => [one.clock.name, one.why?.rival.name, one.why?.step])).toEqual([
      [first, second, 'priority2'],
    ]);
    const shape = tree(timing);
    expect(shape).toMatchObject({ [red]: first, [blue]: first, [second]: 'passive' });
    expect(
      Object.values(shape).filter((one) => one === 'alone' || one === 'waits' || one === 'off' || one === 'outranks'),
    ).toEqual([]);
    for (const { followers, clock } of timing.loads)
      expect(followers).toBeLessThanOrEqual(clock.settings.capacity ?? 0);
    const gone = timing.failover.filter((one) => one.lost.name === first);
    expect(
      gone.map((one) => [one.lost.kind, one.lost.clockClass, one.handovers.map(({ to }) => to.name), one.alone]),
    ).toEqual([
      ['device', undefined, [second], []],
      ['reference', 7, [second], []],
      ['reference', 52, [second], []],
    ]);
    expect(timing.impatient).toEqual([]);
    expect(timing.delayMismatches).toEqual([]);
  });
});

describe('what followers put up with', () => {
  it('an announce interval they can not wait for, another delay mechanism, and more followers than fit', () => {
    const timing = timingOf(`
vlans: [{name: red}]
devices:
  - {name: clock, ptp: {${GM}, clockIdentity: 00-00-00-00-00-00-00-01, logAnnounceInterval: 1, logMinDelayReqInterval: -3, capacity: 2, delayRequestCapacity: 100}, interfaces: [{name: e1, vlan: red}]}
  - {name: quick, ptp: {${CAM}, logAnnounceInterval: -2, announceReceiptTimeout: 3}, interfaces: [{name: e1, vlan: red}]}
  - {name: tight, ptp: {${CAM}, logAnnounceInterval: 0, announceReceiptTimeout: 3}, interfaces: [{name: e1, vlan: red}]}
  - {name: other, ptp: {${CAM}, delayMechanism: p2p}, interfaces: [{name: e1, vlan: red}]}
`);
    expect(timing.impatient.map((one) => [one.follower.name, one.parent.name, one.tolerance])).toEqual([
      ['quick', 'clock', 'expires'],
      ['tight', 'clock', 'no spare'],
    ]);
    expect(timing.delayMismatches.map((one) => one.follower.name)).toEqual(['other']);
    expect(timing.loads).toMatchObject([
      { followers: 3, delayRequestsPerSecond: 24, receivedPerSecond: 24, sentPerSecond: 0.5 + 2 + 24, isOver: true },
    ]);
  });
});

interface RandomClocks {
  readonly switches: readonly ('boundary' | 'none')[];
  readonly links: readonly { readonly a: number; readonly b: number }[];
  readonly clocks: readonly {
    readonly at: readonly number[];
    readonly priority1: number;
    readonly clockClass: number;
    readonly slaveOnly: boolean;
  }[];
}

const randomClocks = (most: number, mostLinks: number): fc.Arbitrary<RandomClocks> =>
  fc.integer({ min: 1, max: most }).chain((count) => {
    const node = fc.nat(count - 1);
    return fc.record({
      switches: fc.array(fc.constantFrom('boundary' as const, 'boundary' as const, 'none' as const), {
        minLength: count,
        maxLength: count,
      }),
      links: fc
        .array(fc.record({ a: node, b: node }), { maxLength: mostLinks })
        .map((links) => links.filter(({ a, b }) => a !== b)),
      clocks: fc.array(
        fc.record({
          at: fc.array(node, { minLength: 1, maxLength: 2 }),
          priority1: fc.constantFrom(10, 128, 128),
          clockClass: fc.constantFrom(6, 7, 187, 248, 248),
          slaveOnly: fc.boolean(),
        }),
        { minLength: 1, maxLength: 5 },
      ),
    });
  });

/** A tree in which it is one whether a clock without partners has a port left. */
function plainTree(state: TimingState): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(tree(state)).map(([name, word]) => [name, word === 'off' || word === 'waits' ? 'alone' : word]),
  );
}

/** The plan, with an element left out of it and everything patched to it unpatched. */
function planWithout(rig: RandomClocks, gone: string | undefined): string {
  const stands = (name: string): boolean => name !== gone;
  const port = (index: number): string => `p${index}`;
  const devices = rig.clocks
    .map((clock, index) => ({
      name: `clock-${index}`,
      ptp: {
        mode: 'ordinary',
        priority1: clock.priority1,
        clockClass: clock.slaveOnly ? 255 : clock.clockClass,
        slaveOnly: clock.slaveOnly,
        clockIdentity: `00000000000000${(index + 1).toString(16).padStart(2, '0')}`,
      },
      interfaces: clock.at.flatMap((at, leg) =>
        stands(`sw-${at}`) ? [{ name: `e${leg}`, port: `sw-${at}/${port(index * 2 + leg)}` }] : [],
      ),
    }))
    .filter((one) => stands(one.name));
  const links = rig.links.flatMap(({ a, b }, index) => {
    const name = `link-${index}`;
    return stands(name) && stands(`sw-${a}`) && stands(`sw-${b}`)
      ? [{ name, ends: [`sw-${a}/t${index}`, `sw-${b}/t${index}`] }]
      : [];
  });
  const switches = rig.switches
    .map((mode, index) => ({
      name: `sw-${index}`,
      ptp: { mode, clockIdentity: `00000000000001${(index + 1).toString(16).padStart(2, '0')}` },
      ports: [
        ...Array.from({ length: rig.clocks.length * 2 }, (_, number) => ({ name: port(number), access: 'red' })),
        ...rig.links.map((_, number) => ({ name: `t${number}`, trunk: ['red'] })),
      ],
    }))
    .filter((one) => stands(one.name));
  return JSON.stringify({ vlans: [{ name: 'red', id: 10 }], switches, links, devices });
}

describe('a loss', () => {
  it('leaves what a plan without the thing would have', () => {
    fc.assert(
      fc.property(randomClocks(5, 6), (rig) => {
        const model = modelOf(JSON.parse(planWithout(rig, undefined)) as object);
        const { timing } = model;
        const losses = new Map(
          timing.failover.filter((one) => one.lost.kind !== 'reference').map((one) => [one.lost.name, one]),
        );
        const names = [
          ...rig.switches.map((_, index) => `sw-${index}`),
          ...rig.links.map((_, index) => `link-${index}`),
          ...rig.clocks.map((_, index) => `clock-${index}`),
        ];
        for (const name of names) {
          const bare = loadPlan([{ name: 'plan.json', text: planWithout(rig, name) }]);
          const after = plainTree(createModel(bare.plan).timing);
          const found = losses.get(name);
          if (found !== undefined) expect(plainTree(found.state), name).toEqual(after);
          else {
            // Not listed: nobody that follows changes whom, and nobody that followed stops.
            const before = plainTree(timing);
            for (const [clock, parent] of Object.entries(after)) {
              const earlier = before[clock] ?? '';
              if (/^(clock|sw)-/.test(earlier)) expect(parent, `${clock} without ${name}`).toBe(earlier);
            }
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  /** What a loss does, in names. */
  const effect = ({ handovers, rerouted, alone }: LossResult): object => ({
    handovers: handovers.map(
      ({ from, to, followers, stillLeads }) =>
        `${from.name} to ${to.name}: ${names(followers)}${stillLeads ? ', still leads' : ''}`,
    ),
    rerouted: names(rerouted),
    alone: names(alone),
  });
  const names = (clocks: readonly { readonly name: string }[]): string => clocks.map((one) => one.name).join();

  it('concerns no clock that decides otherwise and is not asked', () => {
    let [asked, all] = [0, 0];
    fc.assert(
      fc.property(randomClocks(9, 14), (rig) => {
        const { plan, domains } = modelOf(JSON.parse(planWithout(rig, undefined)) as object);
        const base = buildTimingBase(plan, domains);
        const whole = timingWithout(base);
        const concernedBy = createConcerned(base, whole);
        for (const lost of namedLosses(plan, whole)) {
          asked += concernedBy(lost.loss)?.voters.length ?? whole.clocks.length;
          all += whole.clocks.length;
          expect(effect(loseNow(lost, base, whole, concernedBy)), lost.name).toEqual(
            effect(loseNow(lost, base, whole)),
          );
        }
      }),
      { numRuns: Number(process.env['LOSSES'] ?? 300) },
    );
    expect(asked / all).toBeLessThan(0.7);
  });

  // Past 255 steps an Announce is not passed on (IEEE 1588-2008 §9.3.2.5): whoever is last may speak after a loss.
  it.each([
    ['a chain', 270, chain],
    ['a ring', 530, (count: number) => [...chain(count), [count - 1, 0] as const]],
  ])('on %s longer than Announces go is what an election among all says', (_, count, links) => {
    const { plan, domains } = modelOf(boundaries(count, links(count)));
    const base = buildTimingBase(plan, domains);
    const whole = timingWithout(base);
    const concernedBy = createConcerned(base, whole);
    const every = namedLosses(plan, whole).filter((__, index) => index % Math.ceil(count / 6) === 1);
    expect(every.length).toBeGreaterThan(10);
    for (const lost of every)
      expect(effect(loseNow(lost, base, whole, concernedBy)), lost.name).toEqual(effect(loseNow(lost, base, whole)));
  });
});

describe('what no start of a takeover showed', () => {
  const timing = timingOf(`
vlans: [{name: media, id: 10}]
switches: [{name: leaf, ports: [{name: 1-8, access: media}]}]
devices:
  - {name: main, ptp: {${GM}}, interfaces: [{name: e1, port: leaf/1, mac: '02:00:00:00:00:01'}]}
  - {name: backup, ptp: {${GM}}, interfaces: [{name: e1, port: leaf/2, mac: '02:00:00:00:00:02'}]}
  - {name: cam, ptp: {${CAM}}, interfaces: [{name: e1, port: leaf/3, mac: '02:00:00:00:00:03'}]}
  - {name: desk, ptp: {${CAM}}, interfaces: [{name: e1, port: leaf/4, mac: '02:00:00:00:00:04'}]}
`);

  it('is not known: neither nothing nor the time of the others', () => {
    const [from, to, cam, desk] = timing.clocks;
    if (from === undefined || to === undefined || cam === undefined || desk === undefined) throw new Error('no clocks');
    const span = { fromS: 4, toS: 5 };
    const shown = (speaks: boolean, chosen: readonly unknown[]) =>
      takeoverTimes(
        { from, to, followers: [cam, desk] },
        {
          speaks: () => (speaks ? { fromS: 3, toS: 4 } : undefined),
          chosen: (one) => (chosen.includes(one) ? span : undefined),
          between: () => [],
          circlingS: undefined,
        },
      );
    expect(shown(true, [cam, desk])).toMatchObject({ standby: { fromS: 3, toS: 4 }, followers: span });
    expect(shown(true, [cam])).toMatchObject({ standby: { fromS: 3, toS: 4 }, followers: undefined });
    const times = shown(false, []);
    expect(times).toMatchObject({ standby: undefined, followers: undefined });
    const handover = { domain: 127, from, to, followers: [cam, desk], times, stillLeads: false };
    const words = plainText(
      effectWords({ handovers: [handover], rerouted: [cam], reroutedIn: undefined, alone: [] }, 9),
    );
    expect(words).toContain('backup takes over from main at a time that is NOT KNOWN');
    expect(words).toContain('cam and desk at a time that is NOT KNOWN');
    expect(words).toContain('cam keeps the grandmaster by another path at a time that is NOT KNOWN');
    expect(words).not.toMatch(/\d/);
  });
});
