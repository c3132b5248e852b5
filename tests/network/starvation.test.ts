/** What ends when queries no longer come, against the plan without the switch or link (RFC 4541 §2.1.1, RFC 3376 §8.4). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../tools/network-plans.js';
import type { createModel } from '../../src/model/model.js';
import { createArrival } from '../../src/model/network/forward.js';
import { planOf, randomRig, type RandomRig } from './random-rig.js';

interface Raw {
  readonly vlans: readonly Record<string, unknown>[];
  readonly links: readonly { readonly ends: readonly string[] }[];
  readonly switches: readonly Record<string, unknown>[];
}

interface Settings {
  readonly queriers: readonly number[];
  readonly floods: readonly boolean[];
  /** Whether each switch has its own answer, or all that of the first. */
  readonly mixed: boolean;
}

const SETTINGS: fc.Arbitrary<Settings> = fc.record({
  queriers: fc.array(fc.nat(5), { minLength: 1, maxLength: 2 }),
  floods: fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
  mixed: fc.boolean(),
});

describe('what a failure takes at once or when memberships end', () => {
  it('is what the plan without the switch or link does not deliver', () => {
    let faded = 0;
    let lost = 0;
    fc.assert(
      fc.property(randomRig({ switches: 6, links: 8, streams: 5, routed: false }), SETTINGS, (rig, settings) => {
        const raw = withSettings(rig, settings);
        const whole = modelOf(raw);
        const before = deliveredLegs(whole);
        const failures = new Map(whole.failures.ranked.map((one) => [`${one.element.kind} ${one.element.name}`, one]));
        for (const { element, without } of losses(raw)) {
          const after = deliveredLegs(modelOf(without));
          const failure = failures.get(element);
          const gone = new Set([
            ...(failure?.lost ?? []).map(({ receiver }) => receiver.label),
            ...(failure?.fading ?? []).filter((one) => one.whole).map(({ reception }) => reception.receiver.label),
          ]);
          const less = new Set([
            ...(failure?.weakened ?? []).map(({ receiver }) => receiver.label),
            ...(failure?.fading ?? []).map(({ reception }) => reception.receiver.label),
          ]);
          for (const [receiver, legs] of before) {
            if (legs.size === 0 || standsAt(rig, receiver, element)) continue;
            const left = after.get(receiver) ?? new Set();
            const said = [gone.has(receiver), gone.has(receiver) || less.has(receiver)];
            const is = [left.size === 0, [...legs].some((leg) => !left.has(leg))];
            // Where some switches of a loop flood and others do not, the way after the failure decides: told as lost.
            const told = settings.mixed ? said.map((one, index) => one && is[index]) : said;
            expect([receiver, element, ...told]).toEqual([receiver, element, ...is]);
            if (left.size === 0) lost++;
          }
          faded += failure?.fading.length ?? 0;
        }
      }),
      { numRuns: 400 },
    );
    expect(lost).toBeGreaterThan(100);
    expect(faded).toBeGreaterThan(10);
  });
});

function withSettings(rig: RandomRig, { queriers, floods, mixed }: Settings): Raw {
  const raw = planOf(rig) as Raw;
  const querier = queriers.map((at, index) => ({
    on: `sw-${at % rig.switches.length}`,
    address: `10.1.0.${index + 1}`,
  }));
  const seen = new Set<string>();
  const own = querier.filter(({ on }) => (seen.has(on) ? false : seen.add(on)));
  return {
    ...raw,
    vlans: raw.vlans.map((vlan) => ({ ...vlan, igmp: { snooping: true, querier: own } })),
    switches: raw.switches.map((one, index) => ({
      ...one,
      power: [],
      snoopingKey: 'source-group',
      unregistered: 'drop',
      noQuerier: floods[mixed ? index : 0] === true ? 'flood' : 'prune',
    })),
    links: raw.links.map((link) => ({ ...link, risks: [] })),
  };
}

/** The plan without each link, and without everything plugged between a switch and the others. */
function losses(raw: Raw): readonly { readonly element: string; readonly without: Raw }[] {
  const at = (end: string, one: Record<string, unknown>): boolean => end.startsWith(`${String(one['name'])}/`);
  return [
    ...raw.links.map((link, index) => ({
      element: `link link-${index}`,
      without: { ...raw, links: raw.links.filter((one) => one !== link) },
    })),
    ...raw.switches.map((one) => ({
      element: `switch ${String(one['name'])}`,
      without: { ...raw, links: raw.links.filter(({ ends }) => !ends.some((end) => at(end, one))) },
    })),
  ];
}

function standsAt(rig: RandomRig, receiver: string, element: string): boolean {
  const [, stream, index] = /^monitor-(\d+)-(\d+)/.exec(receiver) ?? [];
  const at = rig.streams[Number(stream)]?.receivers[Number(index)] ?? [];
  return at.some((node) => element === `switch sw-${node}`);
}

/** Which legs each receiver gets. */
function deliveredLegs({ plan, network }: ReturnType<typeof createModel>): ReadonlyMap<string, ReadonlySet<number>> {
  const arrives = createArrival();
  return new Map(
    plan.receivers.map((receiver) => [
      receiver.label,
      new Set(
        receiver.legs
          .filter(({ takes: leg, group, ...own }) => {
            if (leg === undefined || group !== leg.group) return false;
            const reached = network
              .flowsOf(leg)
              .flatMap((flow) => flow.receivers.map((one) => ({ flow, one })))
              .find(({ one }) => one.leg.receiver === receiver && one.leg.index === own.index);
            return reached !== undefined && arrives(reached.flow, reached.one);
          })
          .map(({ index }) => index),
      ),
    ]),
  );
}
