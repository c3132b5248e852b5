/**
 * The end of every timeline is the standing answer for the plan with the thing taken out of its text: which legs get to
 * their receivers, and whose time each clock keeps. A timeline is worked out loss by loss and played through in time; the
 * standing answers come from the network and the election of another plan.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Model } from '../../src/model/model.js';
import { createArrival } from '../../src/model/network/forward.js';
import { buildReturn, buildTimeline, losables, type Timeline } from '../../src/model/timeline/index.js';
import { planOf, randomRig, type RandomRig } from '../network/random-rig.js';
import { modelOf } from '../tools/network-plans.js';

interface RawDevice {
  readonly name: string;
  readonly interfaces: readonly { readonly name: string; readonly vlan?: string; readonly port?: string }[];
  readonly senders?: readonly { readonly name: string; readonly legs: readonly Record<string, unknown>[] }[];
  readonly receivers?: readonly Record<string, unknown>[];
  readonly ptp?: object;
}

interface RawSwitch {
  readonly name: string;
  readonly spanningTree: object;
  readonly ports: readonly object[];
}

interface Raw {
  readonly vlans: readonly Record<string, unknown>[];
  readonly links: readonly { readonly name: string; readonly ends: readonly string[] }[];
  readonly switches: readonly RawSwitch[];
  readonly devices: readonly RawDevice[];
}

interface Settings {
  readonly queriers: readonly number[];
  readonly floods: boolean;
  readonly six: boolean;
  readonly modes: readonly string[];
  readonly boundary: readonly boolean[];
  readonly clocksAt: readonly number[];
}

const SETTINGS: fc.Arbitrary<Settings> = fc.record({
  queriers: fc.array(fc.nat(4), { minLength: 1, maxLength: 2 }),
  floods: fc.constantFrom(false, false, true),
  six: fc.boolean(),
  modes: fc.array(fc.constantFrom('rstp', 'stp'), { minLength: 5, maxLength: 5 }),
  boundary: fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }),
  clocksAt: fc.array(fc.nat(4), { minLength: 2, maxLength: 3 }),
});

const RUNS = 60;

describe('the end of a timeline', () => {
  it('is what trace and clocks say of the plan without the thing', () => {
    const seen = { off: 0, again: 0, aged: 0, moved: 0, alone: 0, mld: 0 };
    fc.assert(
      fc.property(randomRig({ switches: 5, links: 14, streams: 4, routed: false }), SETTINGS, (rig, settings) => {
        const raw = rawOf(rig, settings);
        const whole = modelOf(raw);
        const known = losables(whole.plan, whole.timing);
        for (const { kind, name, without, isLeftOut } of losses(raw)) {
          const losable = known.find((one) => one.kind === kind && one.name === name);
          if (losable === undefined) throw new Error(`no ${kind} ${name}`);
          const timeline = buildTimeline(whole, losable);
          const after = modelOf(without);
          expect([kind, name, legsAtEnd(whole, timeline, isLeftOut)]).toEqual([kind, name, legsOf(after, isLeftOut)]);
          if (isSettled(whole) && isSettled(after))
            expect([kind, name, clocksAtEnd(whole, timeline, isLeftOut)]).toEqual([
              kind,
              name,
              clocksOf(after, isLeftOut),
            ]);
          if (isSettled(whole) && isSettled(after)) {
            const back = buildReturn(whole.timing, losable);
            const stood = clocksOf(whole, () => false);
            // Without it, what it ends at; what is gone itself starts anew.
            const begin = { ...keptAtEnd(stood, timeline), ...(name in stood ? { [name]: name } : {}) };
            expect([kind, name, 'back', keptAtEnd(begin, back)]).toEqual([kind, name, 'back', stood]);
          }
          for (const { what } of timeline.moments) {
            if (what.kind === 'dark' || what.kind === 'legs off') seen[what.why === 'ageing' ? 'aged' : 'off']++;
            if (what.kind === 'legs on') seen.again++;
            if (what.kind === 'legs on' && settings.six) seen.mld++;
            if (what.kind === 'clocks' && what.moment.kind === 'has master') seen.moved++;
            if (what.kind === 'clocks' && what.moment.kind === 'left alone') seen.alone++;
          }
          inOrder(timeline);
        }
      }),
      { numRuns: RUNS },
    );
    for (const [what, count] of Object.entries(seen)) expect([what, count > 0]).toEqual([what, true]);
  });

  it('takes what the table of failures takes, for risks and power feeds too', () => {
    let hit = 0;
    fc.assert(
      fc.property(randomRig({ switches: 5, links: 14, streams: 4, routed: true }), SETTINGS, (rig, settings) => {
        const whole = modelOf(rawOf(rig, settings, true));
        const table = new Map(whole.failures.ranked.map((one) => [`${one.element.kind} ${one.element.name}`, one]));
        for (const losable of losables(whole.plan, whole.timing)) {
          const { removal, kind, name } = losable;
          if (removal === undefined) continue;
          const row = table.get(`${kind} ${name}`);
          const said = {
            lost: labels(row?.lost ?? []),
            faded: labels((row?.fading ?? []).filter((one) => one.whole).map(({ reception }) => reception)),
          };
          expect([kind, name, takenBy(buildTimeline({ ...whole, timing: NO_CLOCKS }, losable))]).toEqual([
            kind,
            name,
            said,
          ]);
          hit += said.lost.length + said.faded.length;
        }
      }),
      { numRuns: 4 * RUNS },
    );
    expect(hit).toBeGreaterThan(100);
  });
});

/** Receptions with nothing left in the end, by whether that is so at once. */
function takenBy({ moments }: Timeline): { readonly lost: readonly string[]; readonly faded: readonly string[] } {
  const [lost, faded] = [new Set<string>(), new Set<string>()];
  for (const { what } of moments) {
    if (what.kind === 'own inputs') for (const { label } of what.receivers) lost.add(label);
    if (what.kind === 'dark' && !what.back)
      for (const { reception } of what.hits) (what.why === 'loss' ? lost : faded).add(reception.receiver.label);
  }
  return { lost: [...lost].sort(), faded: [...faded].sort() };
}

function labels(receptions: readonly { readonly receiver: { readonly label: string } }[]): readonly string[] {
  return receptions.map(({ receiver }) => receiver.label).sort();
}

const NO_CLOCKS = modelOf({ rig: 'Heron' }).timing;

/** Known times in order, the earliest no later than the latest, and unknown ones last. */
function inOrder({ moments }: Timeline): void {
  let [fromS, isOver] = [0, false];
  for (const { when } of moments) {
    if (when.kind === 'not known') isOver = true;
    else {
      expect(isOver).toBe(false);
      expect(when.fromS).toBeGreaterThanOrEqual(fromS);
      expect(when.toS).toBeGreaterThanOrEqual(when.fromS);
      fromS = when.fromS;
    }
  }
}

function rawOf(rig: RandomRig, { queriers, floods, six, modes, boundary, clocksAt }: Settings, shared = false): Raw {
  const raw = planOf(shared ? rig : { ...rig, links: rig.links.map((one) => ({ ...one, risks: [] })) }) as Raw;
  const count = raw.switches.length;
  const nodes = [...new Set(queriers.map((at) => at % count))];
  const management = {
    snooping: true,
    querier: nodes.map((at, index) => ({
      on: `sw-${String(at)}`,
      address: six ? `fe80::${String(index + 1)}` : `10.1.0.${String(index + 1)}`,
    })),
  };
  let identity = 0x100;
  const ptp = (more: object): object => {
    identity++;
    const id = identity.toString(16).padStart(16, '0').match(/../g)?.join('-') ?? '';
    return { domain: 127, logAnnounceInterval: 0, announceReceiptTimeout: 3, clockIdentity: id, ...more };
  };
  const clocks = clocksAt.map((at, index) => ({ at: at % count, name: `clock-${String(index)}` }));
  return {
    ...raw,
    vlans: raw.vlans.map((vlan) => ({ ...vlan, [six ? 'mld' : 'igmp']: management })),
    switches: raw.switches.map((one, index) => ({
      ...one,
      ...(shared ? {} : { power: [] }),
      snoopingKey: 'source-group',
      unregistered: 'drop',
      noQuerier: floods ? 'flood' : 'prune',
      spanningTree: { ...one.spanningTree, mode: modes[index] },
      ports: [
        ...one.ports,
        ...clocks.filter(({ at }) => at === index).map(({ name }) => ({ name, access: 'red-video', rate: '10G' })),
      ],
      ...(boundary[index] === true ? { ptp: ptp({ mode: 'boundary' }) } : {}),
    })),
    devices: [
      ...raw.devices.map((device) => ({
        ...device,
        ...(six && device.senders !== undefined ? { senders: device.senders.map(inSix) } : {}),
        ptp: ptp({ mode: 'ordinary', slaveOnly: true }),
      })),
      ...clocks.map(({ at, name }, index) => ({
        name,
        ptp: ptp({ mode: 'ordinary', clockClass: 6, priority2: index + 1 }),
        interfaces: [{ name: 'a', vlan: 'red-video', port: `sw-${String(at)}/${name}` }],
      })),
    ],
  };
}

function inSix(sender: NonNullable<RawDevice['senders']>[number]): NonNullable<RawDevice['senders']>[number] {
  return {
    ...sender,
    legs: sender.legs.map((leg) => ({
      ...leg,
      group: `ff05::${String(leg['group']).split('.').slice(1).join(':')}`,
    })),
  };
}

interface Loss {
  readonly kind: string;
  readonly name: string;
  readonly without: Raw;
  /** Boxes that are gone, or stand on one that is. */
  readonly isLeftOut: (box: string) => boolean;
}

function losses(raw: Raw): readonly Loss[] {
  const isAt = (end: string | undefined, name: string): boolean => end?.startsWith(`${name}/`) === true;
  return [
    ...raw.links.map((link): Loss => ({
      kind: 'link',
      name: link.name,
      without: { ...raw, links: raw.links.filter((one) => one !== link) },
      isLeftOut: () => false,
    })),
    // A box without its links and clock is heard by nobody; what stands on it is not compared.
    ...raw.switches.map(({ name }): Loss => ({
      kind: 'switch',
      name,
      without: {
        ...raw,
        links: raw.links.filter(({ ends }) => !ends.some((end) => isAt(end, name))),
        switches: raw.switches.map((one) => (one.name === name ? { ...one, ptp: undefined } : one)),
      },
      isLeftOut: (box) =>
        box === name ||
        raw.devices.some((one) => one.name === box && one.interfaces.some(({ port }) => isAt(port, name))),
    })),
    ...raw.devices.map(({ name }): Loss => ({
      kind: 'device',
      name,
      without: {
        ...raw,
        devices: raw.devices
          .filter((one) => one.name !== name)
          .map((one) =>
            one.receivers === undefined
              ? one
              : { ...one, receivers: one.receivers.filter(({ takes }) => !isAt(String(takes), name)) },
          ),
      },
      isLeftOut: (box) => box === name,
    })),
  ];
}

/** Legs that come, as `receiver leg`, by the moments of a timeline. */
function legsAtEnd(whole: Model, { moments }: Timeline, isLeftOut: Loss['isLeftOut']): readonly string[] {
  const left = new Set(legsOf(whole, isLeftOut));
  for (const { what } of moments) {
    if (what.kind !== 'dark' && what.kind !== 'legs off' && what.kind !== 'legs on') continue;
    for (const { legs } of what.hits)
      for (const { receiverLeg } of legs) {
        const name = `${receiverLeg.receiver.label} ${String(receiverLeg.index)}`;
        if (isLeftOut(receiverLeg.receiver.device.name)) continue;
        if (what.kind === 'legs on') left.add(name);
        else left.delete(name);
      }
  }
  return [...left].sort();
}

function legsOf({ plan, network }: Model, isLeftOut: Loss['isLeftOut']): readonly string[] {
  const arrives = createArrival();
  return plan.receivers
    .filter(({ device }) => !isLeftOut(device.name))
    .flatMap((receiver) =>
      receiver.legs.flatMap(({ takes, group, index }) => {
        if (takes === undefined || group !== takes.group) return [];
        const comes = network
          .flowsOf(takes)
          .some((flow) =>
            flow.receivers.some(
              (one) => one.leg.receiver === receiver && one.leg.index === index && arrives(flow, one),
            ),
          );
        return comes ? [`${receiver.label} ${String(index)}`] : [];
      }),
    )
    .sort();
}

/** Whose time each clock keeps, its own where it follows nobody. */
function clocksAtEnd(whole: Model, timeline: Timeline, isLeftOut: Loss['isLeftOut']): Record<string, string> {
  const kept = Object.entries(
    keptAtEnd(
      clocksOf(whole, () => false),
      timeline,
    ),
  );
  return Object.fromEntries(kept.filter(([name]) => !isLeftOut(name)));
}

function keptAtEnd(before: Record<string, string>, timeline: Timeline | undefined): Record<string, string> {
  const kept = { ...before };
  for (const { what } of timeline?.moments ?? []) {
    if (what.kind !== 'clocks') continue;
    const { moment } = what;
    if (moment.kind === 'has master') for (const { clock } of moment.clocks) kept[clock.name] = moment.grandmaster.name;
    if (moment.kind === 'left alone') for (const { clock } of moment.clocks) kept[clock.name] = clock.name;
    if (moment.kind === 'leads') kept[moment.clock.name] = moment.clock.name;
  }
  return kept;
}

function clocksOf({ timing }: Model, isLeftOut: Loss['isLeftOut']): Record<string, string> {
  return Object.fromEntries(
    timing.clocks.flatMap((clock) =>
      isLeftOut(clock.name) ? [] : [[clock.name, timing.outcomeOf(clock)?.grandmaster.name ?? clock.name]],
    ),
  );
}

function isSettled({ timing }: Model): boolean {
  return timing.groups.every(({ election }) => election.settled);
}
