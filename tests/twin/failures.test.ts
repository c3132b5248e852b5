/**
 * Who is lost after a single loss: what `failures` of the model says against rigs made by hand that it is taken from, at
 * once, and again when memberships nobody renews are forgotten.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { createModel } from '../../src/model/model.js';
import type { Element, Failures, Reception } from '../../src/model/network/index.js';
import { skipped } from '../tools/outside.js';
import { benchOf } from './bench.js';
import { LABS_AT_ONCE, sideBySide } from './lab.js';
import { lossesOf, lossSteps, type Loss } from './loss.js';
import { planeOf, PLANES, type ShortHost, type ShortRig } from './rigs.js';
import type { StepSpec } from './spec.js';
import { observeUntil, resolve, whyNoPlane, type Bench, type Picture } from './twin.js';

const GROUPS = ['239.1.1.1', '239.1.1.2'] as const;
const MOST_MS = 600_000;

function host(name: string, at: string, number: number, more: Partial<ShortHost> = {}): ShortHost {
  return { name, at, address: `10.0.0.${number}`, ...more };
}

/** Two senders at the ends, receivers everywhere; who queries is a host. */
function streams(queriers: readonly string[]): readonly ShortHost[] {
  const first = { receives: [{ takes: `cam-a/${GROUPS[0]}` }] };
  const second = { receives: [{ takes: `cam-d/${GROUPS[1]}` }] };
  return [
    ...queriers.map((at, index) => host(`asker-${at}`, at, index + 1)),
    host('cam-a', 'a', 10, { sends: [GROUPS[0]] }),
    host('cam-d', 'd', 11, { sends: [GROUPS[1]] }),
    host('near', 'a', 12, first),
    host('middle', 'b', 13, first),
    host('far', 'd', 14, first),
    host('back', 'a', 15, second),
    host('half', 'c', 16, second),
  ];
}

const SWITCHES = ['a', 'b', 'c', 'd'] as const;
const CHAIN = [{ between: ['a', 'b'] }, { between: ['b', 'c'] }, { between: ['c', 'd'] }] as const;
const DROP = Object.fromEntries(SWITCHES.map((name) => [name, { unregistered: 'drop' }]));

const ASKERS = (at: readonly string[]): ShortRig['vlans'] => ({
  red: { queriers: at.map((name, index) => ({ on: `asker-${name}`, address: `10.0.0.${index + 1}` })) },
});
const BRIDGES = (at: readonly string[]): ShortRig['vlans'] => ({
  red: { queriers: at.map((on, index) => ({ on, address: `10.0.250.${index + 1}` })) },
});

interface LossRig {
  readonly title: string;
  readonly rig: ShortRig;
}

/** The first switch is the root, and the link from c to d waits: after a loss reports may come another way, or none. */
function ring(title: string, unregistered: 'drop' | 'flood', queriers: readonly string[]): LossRig {
  return {
    title,
    rig: {
      plane: 'openvswitch',
      switches: SWITCHES,
      links: [...CHAIN, { between: ['a', 'd'] }],
      each: Object.fromEntries(
        SWITCHES.map((name, index) => [
          name,
          { unregistered, spanningTree: { mode: 'rstp', priority: 4096 * (index + 1) } },
        ]),
      ),
      vlans: ASKERS(queriers),
      hosts: streams(queriers),
    },
  };
}

const RIGS: readonly LossRig[] = [
  {
    title: 'a chain, unregistered dropped, one querier',
    rig: {
      plane: 'openvswitch',
      switches: SWITCHES,
      links: CHAIN,
      each: DROP,
      vlans: ASKERS(['b']),
      hosts: streams(['b']),
    },
  },
  {
    title: 'a chain, unregistered dropped, a querier at each end',
    rig: {
      plane: 'openvswitch',
      switches: SWITCHES,
      links: CHAIN,
      each: DROP,
      vlans: ASKERS(['a', 'd']),
      hosts: streams(['a', 'd']),
    },
  },
  {
    title: 'a chain, unregistered flooded, one querier',
    rig: { plane: 'openvswitch', switches: SWITCHES, links: CHAIN, vlans: ASKERS(['c']), hosts: streams(['c']) },
  },
  ring('a ring, unregistered dropped, one querier', 'drop', ['b']),
  ring('a ring, unregistered dropped, the querier at the far end', 'drop', ['d']),
  ring('a ring, unregistered dropped, a querier beside the root and one across', 'drop', ['b', 'c']),
  ring('a ring, unregistered flooded, one querier', 'flood', ['b']),
  {
    title: 'a chain of bridges, one querier',
    rig: { switches: SWITCHES, links: CHAIN, vlans: BRIDGES(['b']), hosts: streams([]) },
  },
  {
    title: 'a star of bridges, two queriers',
    rig: {
      switches: SWITCHES,
      links: [{ between: ['b', 'a'] }, { between: ['b', 'c'] }, { between: ['b', 'd'] }],
      vlans: BRIDGES(['c', 'd']),
      hosts: streams([]),
    },
  },
];

interface Trial {
  readonly title: string;
  readonly bench: Bench;
  readonly rig: ShortRig;
  readonly loss: Loss;
  /** Receptions that get nothing: before, at once, and in the end. */
  readonly dark: readonly (readonly string[])[];
}

/** A querier that is no switch is a host that does nothing else; a bridge that only stops querying fails as nothing. */
const TRIALS = RIGS.flatMap(({ title, rig }): readonly Trial[] => {
  const plan = resolve(rig);
  const plane = planeOf(rig);
  const { failures } = createModel(plan);
  const wait = (seconds: number): StepSpec => ({ do: 'wait', seconds });
  // A Linux bridge does not forget before it floods; where Open vSwitch would in minutes, it is told to.
  const after: readonly StepSpec[] = plane === 'bridges' ? [wait(5)] : [{ do: 'forget' }, wait(1.6)];
  return lossesOf(rig)
    .filter((loss) => loss.kind !== 'querier' || plane === 'openvswitch')
    .map((loss): Trial => {
      const then = [
        ...lossSteps(rig, plan, loss),
        wait(2.5),
        { do: 'send' as const },
        ...after,
        { do: 'send' as const },
      ];
      return {
        title: `${title}: ${nameOf(loss)}`,
        bench: { plan, spec: benchOf(plan, { then }, plane) },
        rig,
        loss,
        dark: [[], darkBy(failures, loss, false), darkBy(failures, loss, true)],
      };
    });
});

function nameOf(loss: Loss): string {
  return loss.kind === 'link' ? loss.between.join('-') : loss.kind === 'switch' ? loss.name : loss.on;
}

function isOf({ kind, name }: Element, loss: Loss): boolean {
  return name === nameOf(loss) && kind === (loss.kind === 'querier' ? 'device' : loss.kind);
}

function darkBy(failures: Failures, loss: Loss, inTheEnd: boolean): readonly string[] {
  const found = failures.ranked.find(({ element }) => isOf(element, loss));
  const fading = found?.fading.filter(({ whole }) => whole).map(({ reception }) => reception) ?? [];
  const dark: readonly Reception[] = [...(found?.lost ?? []), ...(inTheEnd ? fading : [])];
  return [...new Set(dark.map(({ receiver, sender }) => `${receiver.device.name} ${sender.label}`))].sort();
}

/**
 * Receptions that get nothing by what was seen. Open vSwitch doubles at each switch what goes to a member behind a port that
 * has become a router port since (README.md beside this file): that is not dark.
 */
function darkIn({ plan }: Bench, picture: Picture): readonly string[] {
  return plan.receivers
    .flatMap(({ device, takes }) =>
      takes === undefined || picture[takes.label]?.hosts.some((name) => isWhole(name, device.name)) === true
        ? []
        : [`${device.name} ${takes.label}`],
    )
    .sort();
}

function isWhole(seenAs: string, name: string): boolean {
  const [, count, sent] = /^.* \((\d+) of (\d+) packets\)$/.exec(seenAs) ?? [];
  return seenAs === name || (seenAs.startsWith(`${name} (`) && Number(count) >= Number(sent));
}

const seen = new Map<Trial, readonly (readonly string[])[] | string>();
beforeAll(async () => {
  const runnable = PLANES.filter((plane) => whyNoPlane(plane) === undefined);
  await sideBySide(runnable, LABS_AT_ONCE, async (plane) => {
    const trials = TRIALS.filter(({ rig }) => planeOf(rig) === plane);
    const found = await observeUntil(
      (index, { pictures }) => {
        const trial = trials[index];
        return (
          trial !== undefined &&
          JSON.stringify(pictures.map((one) => darkIn(trial.bench, one))) === JSON.stringify(trial.dark)
        );
      },
      trials.map(({ bench }) => bench),
    );
    trials.forEach((trial, index) => {
      const one = found[index];
      seen.set(trial, one?.error ?? one?.pictures.map((picture) => darkIn(trial.bench, picture)) ?? 'nothing seen');
    });
  });
}, MOST_MS);

describe.each(PLANES)('single losses on %s', (plane) => {
  const reason = whyNoPlane(plane);
  it
    .skipIf(reason !== undefined)
    .each(
      TRIALS.filter(({ rig }) => planeOf(rig) === plane).map((one) => [`${one.title}${skipped(reason)}`, one] as const),
    )('%s', (_, trial) => {
    expect(seen.get(trial)).toEqual(trial.dark);
  });

  it('take much, little and nothing, at once and later', () => {
    const own = TRIALS.filter(({ rig }) => planeOf(rig) === plane).map(({ dark }) => dark);
    expect(own.some(([, now = []]) => now.length > 2)).toBe(true);
    expect(own.some(([, now = []]) => now.length > 0 && now.length <= 2)).toBe(true);
    if (plane === 'openvswitch')
      expect(own.some(([, now = [], end = []]) => now.length === 0 && end.length > 0)).toBe(true);
  });
});
