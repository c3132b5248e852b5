/** What becomes of a leg hangs on how the network is built, never on what things are called or in which order they stand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import { planOf, randomRig } from './random-rig.js';

type Raw = Readonly<Record<string, unknown>>;

const SETTINGS = fc.record({
  snooping: fc.option(fc.boolean(), { nil: undefined }),
  unregistered: fc.constantFrom('flood' as const, 'drop' as const),
  noQuerier: fc.constantFrom('flood' as const, 'prune' as const, undefined),
  queriers: fc.array(fc.nat(5), { maxLength: 2 }),
  off: fc.option(fc.nat(5), { nil: undefined }),
});

/** Lists whose order says nothing; the legs of a sender and the ports of a switch are numbered by theirs. */
const LISTS = ['networks', 'vlans', 'switches', 'links', 'devices'];

describe('the verdict of every leg', () => {
  it('is the same with other names and in another order', () => {
    const seen = new Set<number>();
    fc.assert(
      fc.property(
        fc.boolean().chain((routed) => randomRig({ switches: 6, links: 8, streams: 5, routed })),
        SETTINGS,
        fc.integer({ min: 1, max: 2 ** 31 - 1 }),
        (rig, { snooping, unregistered, noQuerier, queriers, off }, seed) => {
          const raw = planOf(rig) as { vlans: object[]; switches: object[] };
          const names = [...new Set(queriers.map((at) => `sw-${at % rig.switches.length}`))];
          const plan: Raw = {
            ...raw,
            vlans: raw.vlans.map((vlan) => ({
              ...vlan,
              igmp: {
                snooping,
                unregistered,
                querier: names.map((on, index) => ({ on, address: `10.1.0.${index + 1}` })),
              },
            })),
            switches: raw.switches.map((one, index) => ({
              ...one,
              snoopingKey: 'source-group',
              noQuerier,
              ...(index === off ? { snooping: false } : {}),
            })),
          };
          const straight = fatesOf(plan);
          const turned = fatesOf(turn(plan, seed));
          expect(turned).toEqual(straight);
          for (const fate of straight.values()) seen.add(fate);
        },
      ),
      { numRuns: 500 },
    );
    expect(seen.size).toBeGreaterThan(2);
  });
});

/** Every list in another order, and every switch, link and device with another name. */
function turn(plan: Raw, seed: number): Raw {
  let state = seed;
  const next = (below: number): number => {
    state = Number((BigInt(state) * 48_271n) % 2_147_483_647n);
    return state % below;
  };
  const shuffled = <T>(list: readonly T[]): readonly T[] => {
    const left = [...list];
    return list.map(() => left.splice(next(left.length), 1)[0] as T);
  };
  const ordered = Object.fromEntries(
    Object.entries(plan).map(([key, value]) => [
      key,
      LISTS.includes(key) && Array.isArray(value) ? shuffled(value as readonly unknown[]) : value,
    ]),
  );
  const letters = shuffled(['q', 'c', 'x', 'a', 'm', 'z']);
  return JSON.parse(
    JSON.stringify(ordered)
      .replaceAll(/\bsw-(\d)/g, (_, digit: string) => `${letters[Number(digit)] ?? digit}-${digit}`)
      .replaceAll(/\bmonitor-(\d)-(\d)/g, (_, a: string, b: string) => `${letters[Number(b)] ?? b}-monitor-${a}-${b}`),
  ) as Raw;
}

/** By receiver, without the letter that `turn` puts before its name. */
function fatesOf(raw: Raw): ReadonlyMap<string, number> {
  const { plan, verdicts } = modelOf(raw);
  return new Map(
    plan.receiverLegs
      .map((leg, index): [string, number] => [
        `${leg.receiver.label.replace(/^[a-z]-/, '')} ${leg.index}`,
        verdicts.fates[index] ?? -1,
      ])
      .toSorted(([a], [b]) => (a < b ? -1 : 1)),
  );
}
