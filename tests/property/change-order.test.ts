/** The order of a change sheet: carried out step by step, and judged after each, it makes no clash that neither end has. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import { orderSteps } from '../../src/compare/order.js';
import type { Step } from '../../src/compare/steps.js';
import { lint, load, findingText, type LoadedPlan } from '../../src/engine.js';

/** Two hosts on one port, two with one address, two streams on one group: what a wrong order makes for a while. */
const CLASHES = new Set(['ports/used-twice', 'hosts/duplicate-address', 'groups/two-senders']);

interface Host {
  name: string;
  interfaces: { name: string; vlan: string; address?: string; port?: string }[];
  senders: { name: string; legs: { interface: string; group?: string; port: number }[] }[];
}

const LEGS = ['red', 'blue'] as const;
const NAMES = ['cam-1', 'cam-2', 'cam-3', 'cam-4', 'cam-5'];

/** Which place each host has on each leg: of its port, its address, its group. */
const PLACES = fc.record({
  present: fc.subarray(NAMES, { minLength: 2 }),
  ports: fc.shuffledSubarray([1, 2, 3, 4, 5, 6, 7], { minLength: 5, maxLength: 5 }),
  addresses: fc.shuffledSubarray([1, 2, 3, 4, 5, 6], { minLength: 5, maxLength: 5 }),
  groups: fc.shuffledSubarray([1, 2, 3, 4, 5, 6], { minLength: 5, maxLength: 5 }),
});
type Places = typeof PLACES extends fc.Arbitrary<infer One> ? One : never;

function hostsOf({ present, ports, addresses, groups }: Places): Host[] {
  return present.map((name) => {
    const at = NAMES.indexOf(name);
    return {
      name,
      interfaces: LEGS.map((leg, index) => ({
        name: leg,
        vlan: leg,
        address: `10.2${index}.0.${addresses[at] ?? 0}`,
        port: `${leg}-core/${ports[at] ?? 0}`,
      })),
      senders: [
        {
          name: 'video',
          legs: LEGS.map((leg, index) => ({
            interface: leg,
            group: `239.19${index}.0.${groups[at] ?? 0}`,
            port: 20000,
          })),
        },
      ],
    };
  });
}

interface Tie {
  readonly name: string;
  readonly ends: readonly [string, string];
}

function textOf(rig: string, hosts: readonly Host[], links: readonly Tie[] = []): string {
  return JSON.stringify({
    rig,
    networks: LEGS.map((name, index) => ({ name, leg: index + 1 })),
    vlans: LEGS.map((name, index) => ({ name, id: 10 + index, network: name, subnet: `10.2${index}.0.0/24` })),
    switches: LEGS.map((leg) => ({ name: `${leg}-core`, ports: [{ name: '1-9', access: leg }] })),
    devices: hosts,
    links,
  });
}

function loaded(...texts: readonly string[]): LoadedPlan {
  const one = load({ inputs: texts.map((text, index) => ({ name: `plan-${index}.json`, text })), problems: [] });
  expect(one.problems).toEqual([]);
  return one;
}

function clashesOf(one: LoadedPlan): readonly string[] {
  return lint(one, { today: '2026-06-01' })
    .findings.filter(({ rule }) => CLASHES.has(rule))
    .map((finding) => `${finding.rule}: ${findingText(finding).what}`);
}

/** Carries out one step, as the person at the box would. */
function carryOut(hosts: Host[], step: Step, after: readonly Host[]): void {
  const at = hosts.findIndex(({ name }) => name === (step.action === 'rename' ? step.old : step.box.name));
  if (step.what === 'device') {
    const fresh = after.find(({ name }) => name === step.box.name);
    if (step.action === 'remove') hosts.splice(at, 1);
    else if (fresh !== undefined) hosts.push(structuredClone(fresh));
    return;
  }
  const host = hosts[at];
  if (host === undefined) throw new Error(`no box ${step.box.name}`);
  if (step.action === 'rename') {
    host.name = step.box.name;
    return;
  }
  const via = host.interfaces.find(({ name }) => name === step.at);
  const leg = host.senders[0]?.legs.find((_, index) => step.at === `video, leg ${index + 1}`);
  const set = <Key extends string>(entry: Partial<Record<Key, string>> | undefined, key: Key, value?: string): void => {
    if (entry === undefined) throw new Error(`no place ${step.at ?? ''}`);
    // What is undefined is not written.
    Object.assign(entry, { [key]: value });
  };
  if (step.what === 'cable') set(via, 'port', step.new);
  else if (step.what === 'address') set(via, 'address', step.new?.replace(/\/.*/u, ''));
  else if (step.what === 'group') set(leg, 'group', step.new);
  else throw new Error(`cannot carry out ${step.what}`);
}

describe('the order of a change sheet', () => {
  it('takes no port, address or group before it is given up, and ends at the new plan', () => {
    let swaps = 0;
    fc.assert(
      fc.property(PLACES, PLACES, (first, second) => {
        const [old, now] = [hostsOf(first), hostsOf(second)];
        const comparison = comparePlans(loaded(textOf('Heron', old)).plan, loaded(textOf('Heron', now)).plan);
        const steps = orderSteps(comparison).stages.flatMap((stage) => stage.steps);
        swaps += steps.length - comparison.steps.length;
        const hosts = structuredClone(old);
        for (const step of steps) {
          carryOut(hosts, step, now);
          expect(clashesOf(loaded(textOf('Heron', hosts))), `after ${JSON.stringify(step)}`).toEqual([]);
        }
        const byName = (list: readonly Host[]): readonly Host[] => list.toSorted((a, b) => (a.name < b.name ? -1 : 1));
        expect(byName(hosts)).toEqual(byName(now));
      }),
      { numRuns: 60 },
    );
    // Rings, in which somebody has to give up first, were among them.
    expect(swaps).toBeGreaterThan(0);
  });

  it('would be unsafe without regard to who gives up what', () => {
    const [old, now] = [
      ['1', '2'],
      ['2', '3'],
    ].map((ports) =>
      ports.map((port, index): Host => ({
        name: `cam-${index + 1}`,
        interfaces: [{ name: 'red', vlan: 'red', port: `red-core/${port}` }],
        senders: [],
      })),
    ) as [Host[], Host[]];
    const comparison = comparePlans(loaded(textOf('Heron', old)).plan, loaded(textOf('Heron', now)).plan);
    expect(comparison.steps.map(({ box }) => box.name)).toEqual(['cam-1', 'cam-2']);
    expect(orderSteps(comparison).stages.flatMap(({ steps }) => steps.map(({ box }) => box.name))).toEqual([
      'cam-2',
      'cam-1',
    ]);
    carryOut(old, comparison.steps[0] as Step, now);
    expect(clashesOf(loaded(textOf('Heron', old)))).not.toEqual([]);
  });

  it('plugs the cable between two rigs when all their numbers are right', () => {
    const hosts = (rig: string, first: number): Host[] =>
      [1, 2].map((index) => ({
        name: `${rig}-${index}`,
        interfaces: [{ name: 'red', vlan: 'red', address: `10.20.0.${first + index}`, port: `${rig}-core/${index}` }],
        senders: [{ name: 'video', legs: [{ interface: 'red', group: `239.190.0.${first + index}`, port: 20000 }] }],
      }));
    const rig = (name: string, own: readonly Host[]): string =>
      JSON.stringify({
        rig: name,
        networks: [{ name: 'red', leg: 1 }],
        vlans: [{ name: 'red', id: 10, network: 'red', subnet: '10.20.0.0/24' }],
        switches: [
          {
            name: `${name}-core`,
            ports: [
              { name: '1-8', access: 'red' },
              { name: '9', trunk: ['red'] },
            ],
          },
        ],
        devices: own,
      });
    const tie = JSON.stringify({
      rig: 'Kestrel Bay',
      joins: [{ vlans: ['Heron:red', 'Dunlin:red'] }],
      links: [{ name: 'tie', ends: ['Heron-core/9', 'Dunlin-core/9'] }],
    });
    const [heron, dunlin, moved] = [hosts('Heron', 0), hosts('Dunlin', 0), hosts('Dunlin', 10)];
    const before = [rig('Heron', heron), rig('Dunlin', dunlin)];
    expect(clashesOf(loaded(...before))).toEqual([]);
    expect(clashesOf(loaded(...before, tie))).not.toEqual([]);
    const comparison = comparePlans(
      loaded(...before).plan,
      loaded(rig('Heron', heron), rig('Dunlin', moved), tie).plan,
    );
    const steps = orderSteps(comparison).stages.flatMap((stage) => stage.steps);
    let ends = 0;
    for (const step of steps) {
      if (step.part === 'cables') ends++;
      else if (step.box.kind === 'device') carryOut(dunlin, step, moved);
      const now = [rig('Heron', heron), rig('Dunlin', dunlin), ...(ends === 2 ? [tie] : [])];
      expect(clashesOf(loaded(...now)), `after ${JSON.stringify(step)}`).toEqual([]);
    }
    expect(ends).toBe(2);
    expect(dunlin).toEqual(moved);
  });
});
