/** Laws of comparing plans: nothing from nothing, backwards swaps old and new, order of entries changes nothing, linear. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePlans } from '../../src/compare/compare.js';
import { orderSteps } from '../../src/compare/order.js';
import type { Step } from '../../src/compare/steps.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Plan } from '../../src/plan/types.js';
import { generatePlan } from '../bench/generate.js';
import { growth, LINEAR } from '../tools/growth.js';

interface Raw {
  vlans: {
    name: string;
    id: number;
    gateway: string;
    mtu?: number;
    igmp: { version: number; queryInterval?: number };
  }[];
  switches: { name: string; ports: { name: string; rate?: string; trunk?: string[] }[] }[];
  networks: object[];
  links: { ends: string[]; length?: string }[];
  devices: {
    name: string;
    interfaces: { address: string; gateway?: string }[];
    senders: { name: string; legs: { group: string; port?: number; ttl?: number }[] }[];
    receivers: { name: string; takes: string }[];
  }[];
}

/** Twelve devices: enough that every change has a place of its own. */
const STREAMS = 48;

function raw(streams = STREAMS): Raw {
  return structuredClone(generatePlan(streams)) as Raw;
}

function planOf(value: Raw): Plan {
  const { plan, problems } = loadPlan([{ name: 'plan.json', text: JSON.stringify(value) }]);
  expect(problems).toEqual([]);
  return plan;
}

/** Changes of values that leave every thing where it is. */
const CHANGES: readonly ((plan: Raw, index: number, number: number) => void)[] = [
  (plan, index, number) => {
    const leg = plan.devices[index % plan.devices.length]?.senders[number % 4]?.legs[number % 2];
    if (leg !== undefined) leg.group = `239.200.${index}.${number}`;
  },
  (plan, index, number) => {
    const leg = plan.devices[index % plan.devices.length]?.senders[number % 4]?.legs[number % 2];
    if (leg !== undefined) leg.port = 6000 + number;
  },
  (plan, index, number) => {
    const leg = plan.devices[index % plan.devices.length]?.senders[0]?.legs[0];
    if (leg !== undefined) leg.ttl = 33 + (number % 20);
  },
  (plan, index, number) => {
    const one = plan.devices[index % plan.devices.length]?.interfaces[number % 2];
    if (one !== undefined) one.gateway = `10.99.${index}.${number}`;
  },
  (plan, index, number) => {
    const one = plan.devices[index % plan.devices.length]?.receivers[0];
    if (one !== undefined) one.takes = `gateway-${(number % plan.devices.length) + 1}/sound-2`;
  },
  (plan, index, number) => {
    const vlan = plan.vlans[index % plan.vlans.length];
    if (vlan !== undefined) vlan.id = 3000 + number;
  },
  (plan, index, number) => {
    const vlan = plan.vlans[index % plan.vlans.length];
    if (vlan !== undefined) vlan.igmp.queryInterval = 20 + number;
  },
  (plan, index, number) => {
    const port = plan.switches[index % plan.switches.length]?.ports[0];
    if (port !== undefined) port.rate = number % 2 === 0 ? '40G' : '50G';
  },
  (plan, index, number) => {
    const link = plan.links[index % plan.links.length];
    if (link !== undefined) link.length = `${number + 1} m`;
  },
];

const changesOf = fc.array(fc.tuple(fc.nat({ max: CHANGES.length - 1 }), fc.nat({ max: 11 }), fc.nat({ max: 200 })), {
  minLength: 1,
  maxLength: 6,
});

function changed(changes: readonly (readonly [number, number, number])[]): Raw {
  const plan = raw();
  for (const [which, index, number] of changes) CHANGES[which]?.(plan, index, number);
  return plan;
}

/** A step without what may be said differently from either side. */
function core({ action, box, at, network, what, old, new: now, part }: Step): readonly unknown[] {
  return [action, box.kind, box.name, at, network, what, old, now, part];
}

function sorted(steps: readonly (readonly unknown[])[]): readonly string[] {
  return steps.map((one) => JSON.stringify(one)).sort();
}

const BACK: Readonly<Record<Step['action'], Step['action']>> = {
  set: 'set',
  add: 'remove',
  remove: 'add',
  rename: 'rename',
  patch: 'patch',
};

describe('comparing', () => {
  it('a plan with itself gives nothing', () => {
    fc.assert(
      fc.property(changesOf, (changes) => {
        const plan = changed(changes);
        expect(comparePlans(planOf(plan), planOf(plan)).steps).toEqual([]);
      }),
      { numRuns: 20 },
    );
  });

  it('the other way round swaps old and new, and every change is seen', () => {
    const before = planOf(raw());
    const was = JSON.stringify(raw());
    fc.assert(
      fc.property(changesOf, (changes) => {
        const value = changed(changes);
        const after = planOf(value);
        const there = comparePlans(before, after);
        const back = comparePlans(after, before);
        expect(there.steps.length > 0).toBe(JSON.stringify(value) !== was);
        expect(sorted(back.steps.map(core))).toEqual(
          sorted(there.steps.map((one) => core({ ...one, action: BACK[one.action], old: one.new, new: one.old }))),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('does not depend on the order of entries', () => {
    const before = planOf(raw());
    fc.assert(
      fc.property(changesOf, fc.infiniteStream(fc.nat()), (changes, chance) => {
        const value = changed(changes);
        const numbers = chance[Symbol.iterator]();
        const shuffled = <T>(list: readonly T[]): T[] =>
          list
            .map((one) => [numbers.next().value ?? 0, one] as const)
            .sort(([a], [b]) => a - b)
            .map(([, one]) => one);
        const mixed: Raw = {
          ...value,
          vlans: shuffled(value.vlans),
          switches: shuffled(value.switches),
          networks: shuffled(value.networks),
          links: shuffled(value.links),
          devices: shuffled(value.devices),
        };
        const plain = comparePlans(before, planOf(value));
        const other = comparePlans(before, planOf(mixed));
        expect(sorted(other.steps.map(core))).toEqual(sorted(plain.steps.map(core)));
        expect(other.summary).toEqual(plain.summary);
        expect(
          sorted(orderSteps(other).stages.flatMap(({ steps }) => steps.map((one) => [one.number, ...core(one)]))),
        ).toEqual(
          sorted(orderSteps(plain).stages.flatMap(({ steps }) => steps.map((one) => [one.number, ...core(one)]))),
        );
      }),
      { numRuns: 30 },
    );
  });

  it('gives steps in proportion, and takes time in proportion', () => {
    const regrouped = (streams: number): readonly [Plan, Plan] => {
      const value = raw(streams);
      for (const { senders } of value.devices)
        for (const { legs } of senders) for (const leg of legs) leg.group = leg.group.replace('239.', '238.');
      return [planOf(raw(streams)), planOf(value)];
    };
    // Two legs a stream, and each device's one receiver on both legs.
    for (const streams of [4_000, 16_000])
      expect(comparePlans(...regrouped(streams)).steps).toHaveLength(streams * 2 + streams / 2);
    expect(growth(16_000, regrouped, ([before, after]) => comparePlans(before, after))).toBeLessThan(LINEAR);
  });
});
