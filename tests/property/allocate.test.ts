/**
 * Laws of allocation over random requests: the plan is clean, alone and beside what it had to keep clear of; the second
 * leg mirrors the first; groups read back by the legend; the same request gives the same plan, and an earlier one holds.
 */
import type { Finding } from '../../src/lint/finding.js';
import { whatOf } from '../tools/worded.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { allocate, type Allocation } from '../../src/allocate/allocate.js';
import { groupReader } from '../../src/allocate/legend.js';
import { planText } from '../../src/allocate/plan-text.js';
import { withChange } from '../../src/allocate/refusal.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';
import { lintInputs, loadPlan } from '../../src/lint/lint.js';
import { mergeRigs } from '../../src/merge/merge.js';
import { ethernetAddress } from '../../src/model/groups/multicast-space/ethernet.js';
import type { Plan } from '../../src/plan/types.js';
import type { RawPlan } from '../../src/read/raw-plan.js';
import { inRange, isIPv4, rangeOf } from '../../src/values/address.js';
import { rigInput, type RigShape } from '../tools/two-rigs.js';

const TODAY = '2026-06-01';
const AREAS = ['boat shed', 'jetty', 'judges hut'];

interface Shape {
  readonly redundant: boolean;
  readonly split: boolean;
  readonly lines: readonly {
    readonly kind: 'camera' | 'desk' | 'panel';
    readonly area: number;
    readonly count: number;
  }[];
  readonly growth: number;
  readonly dhcp: number;
  readonly switches: boolean;
}

const shape: fc.Arbitrary<Shape> = fc.record({
  redundant: fc.boolean(),
  split: fc.boolean(),
  lines: fc.array(
    fc.record({
      kind: fc.constantFrom('camera', 'desk', 'panel'),
      area: fc.integer({ min: 0, max: 2 }),
      count: fc.integer({ min: 1, max: 30 }),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  growth: fc.integer({ min: 0, max: 100 }),
  dhcp: fc.integer({ min: 0, max: 30 }),
  switches: fc.boolean(),
});

/** A request as somebody would write it. */
function requestOf({ redundant, split, lines, growth, dhcp, switches }: Shape): RawRequest {
  const legs = redundant ? ['red', 'blue'] : ['red'];
  const use = new Set(lines.map(({ kind }) => kind));
  const at = (leg: string, part: string): object => (split ? { vlan: `${leg}-${part}` } : { network: leg });
  const used = (part: string): boolean => (part === 'sound' ? use.has('panel') : use.has('camera') || use.has('desk'));
  const interfaces = (part: string, rate: string): object[] => [
    ...legs.map((leg) => ({ name: leg, ...at(leg, part), rate })),
    { name: 'control', network: 'control', rate: '1G' },
  ];
  const ends = { interfaces: legs };
  const kinds = [
    {
      name: 'camera',
      interfaces: interfaces('pictures', '25G'),
      senders: [
        { name: 'picture', format: 'picture' },
        { name: 'sound', format: 'sound' },
        { name: 'lens', format: 'ancillary' },
      ],
      receivers: [{ name: 'return', format: 'picture', ...ends }],
    },
    {
      name: 'desk',
      interfaces: interfaces('pictures', '100G'),
      senders: Array.from({ length: 5 }, (_, index) => ({
        name: `out-${index + 1}`,
        format: index < 3 ? 'picture' : 'sound',
      })),
    },
    { name: 'panel', interfaces: interfaces('sound', '1G'), senders: [{ name: 'talk', format: 'sound' }] },
  ].filter(({ name }) => use.has(name as 'camera'));
  const formats = [
    {
      name: 'picture',
      essence: 'video',
      coding: 'st2110-20',
      width: 1920,
      height: 1080,
      frameRate: 50,
      scan: 'progressive',
      sampling: 'YCbCr-4:2:2',
      depth: 10,
    },
    {
      name: 'sound',
      essence: 'audio',
      coding: 'st2110-30',
      channels: 2,
      sampleRate: 48_000,
      sampleBits: 24,
      packetTime: '1 ms',
    },
    { name: 'ancillary', essence: 'data', coding: 'st2110-40', frameRate: 50 },
  ];
  const text = JSON.stringify({
    rig: 'Plover',
    growth,
    networks: [
      ...legs.map((name, index) => ({ name, role: 'media', leg: index + 1 })),
      { name: 'control', role: 'control', dhcp },
    ],
    ...(split
      ? {
          vlans: legs.flatMap((leg) =>
            ['pictures', 'sound'].filter(used).map((part) => ({ name: `${leg}-${part}`, network: leg })),
          ),
        }
      : {}),
    areas: AREAS.map((name) => ({ name })),
    formats,
    kinds,
    devices: lines.map(({ kind, area, count }, index) => ({
      name: `${kind}-${index + 1}`,
      kind,
      area: AREAS[area],
      count,
    })),
    ...(switches
      ? {
          switches: [...legs, 'control'].flatMap((network) =>
            AREAS.map((area, index) => ({
              name: `${network}-${index + 1}`,
              network,
              area,
              ports: 64,
              uplinkRate: '400G',
            })),
          ),
        }
      : {}),
  });
  const { document, problems } = readRequest({ name: 'request.json', text });
  expect(problems).toEqual([]);
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

/** A rig on site, in the way of what would be picked first. */
const onSite: fc.Arbitrary<RigShape> = fc.record({
  name: fc.constant('Heron'),
  cameras: fc.uniqueArray(
    fc.record({
      block: fc.integer({ min: 11, max: 40 }),
      last: fc.integer({ min: 1, max: 9 }),
      host: fc.integer({ min: 1, max: 200 }),
    }),
    { minLength: 1, maxLength: 8, selector: ({ host }) => host },
  ),
  ids: fc.constantFrom(110, 210, 300),
  net: fc.constantFrom(16, 30),
});

function planOf(rig: RigShape): Plan {
  return loadPlan(rigInput(rig).inputs).plan;
}

function met(outcome: ReturnType<typeof allocate>): Allocation {
  if ('refusals' in outcome) throw new Error(`refused: ${outcome.refusals.map(({ what }) => what).join('; ')}`);
  return outcome;
}

function resolved(plan: RawPlan): Plan {
  const { plan: own, problems } = loadPlan([{ name: 'plover.json', text: JSON.stringify(plan) }]);
  expect(problems).toEqual([]);
  return own;
}

/** Findings as a reader sees them; load on the network is the request's own doing. */
function said(findings: readonly Finding[]): readonly string[] {
  return findings.filter(({ rule }) => !rule.startsWith('capacity/')).map((one) => `${one.rule}: ${whatOf(one) ?? ''}`);
}

describe('an allocated plan', () => {
  it('is clean as the file that is written, and joined with what it keeps clear of', () => {
    fc.assert(
      fc.property(shape, onSite, (one, rig) => {
        const request = requestOf(one);
        const allocation = met(allocate(request, { plans: [planOf(rig)] }));
        const text = planText(allocation, request);
        const alone = lintInputs([{ name: 'plover.yaml', text }], RULES, { today: TODAY });
        expect(alone.problems).toEqual([]);
        expect(alone.crashed).toEqual([]);
        expect(said(alone.findings)).toEqual([]);
        const joined = mergeRigs(
          [{ from: 'plover.yaml', inputs: [{ name: 'plover.yaml', text }] }, rigInput(rig)],
          RULES,
          { today: TODAY },
        );
        expect(joined.problems).toEqual([]);
        expect(said(joined.joined?.findings ?? [])).toEqual([]);
        expect(joined.meeting?.ranges).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it('shares no Ethernet address, subnet or VLAN id with what it keeps clear of', () => {
    fc.assert(
      fc.property(shape, onSite, (one, rig) => {
        const other = planOf(rig);
        const plan = resolved(met(allocate(requestOf(one), { plans: [other] })).plan);
        const macs = new Set(other.legs.flatMap(({ group }) => (group === undefined ? [] : [ethernetAddress(group)])));
        for (const { group } of plan.legs) expect(macs.has(ethernetAddress(group ?? 0))).toBe(false);
        // Nor among themselves.
        const own = plan.legs.map(({ group }) => ethernetAddress(group ?? 0));
        expect(new Set(own).size).toBe(own.length);
        const ids = new Set(other.vlans.map(({ id }) => id));
        for (const vlan of plan.vlans) {
          expect(ids.has(vlan.id)).toBe(false);
          for (const { subnet } of other.vlans) {
            if (subnet === undefined || vlan.subnet === undefined) continue;
            expect(inRange(subnet.network, rangeOf(vlan.subnet)) || inRange(vlan.subnet.network, rangeOf(subnet))).toBe(
              false,
            );
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('mirrors the first leg on the second: one step for all groups, one for all addresses', () => {
    fc.assert(
      fc.property(shape, (one) => {
        const plan = resolved(met(allocate(requestOf({ ...one, redundant: true }))).plan);
        const groups = new Set(plan.senders.map(({ legs }) => Number(legs[1]?.group) - Number(legs[0]?.group)));
        expect(groups.size).toBe(1);
        const addresses = new Set(
          plan.devices.map(({ interfaces }) => {
            const [red, blue] = ['red', 'blue'].map((name) =>
              Number(interfaces.find((via) => via.name === name)?.address),
            );
            return (blue ?? 0) - (red ?? 0);
          }),
        );
        expect(addresses.size).toBe(1);
      }),
      { numRuns: 30 },
    );
  });

  it('has groups that read back as network, device and stream by its own legend', () => {
    fc.assert(
      fc.property(shape, (one) => {
        const { plan: tree } = met(allocate(requestOf(one)));
        const plan = resolved(tree);
        const read = groupReader(tree);
        const units = new Map<number, string>();
        const streams = new Map<string, string>();
        for (const leg of plan.legs) {
          const reading = typeof leg.group === 'number' ? read(leg.group) : undefined;
          const device = leg.sender.device?.name ?? '';
          expect(reading?.network).toBe(leg.network?.name);
          expect(reading?.areaName).toBe(leg.sender.device?.area);
          expect(device.startsWith(reading?.devices ?? '-')).toBe(true);
          // A unit is one device, and its stream number one output of the kind.
          const unit = reading?.unit ?? 0;
          expect(units.get(unit) ?? device).toBe(device);
          units.set(unit, device);
          const key = `${leg.sender.device?.kind?.name ?? ''} ${reading?.stream ?? ''}`;
          expect(streams.get(key) ?? leg.sender.name).toBe(leg.sender.name);
          streams.set(key, leg.sender.name);
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe('the same request', () => {
  it('gives the same file, byte for byte', () => {
    fc.assert(
      fc.property(shape, (one) => {
        expect(planText(met(allocate(requestOf(one))), requestOf(one))).toBe(
          planText(met(allocate(requestOf(one))), requestOf(one)),
        );
      }),
      { numRuns: 15 },
    );
  });
});

/** Every number of every device, by what has it. */
function numbersOf(plan: Plan): ReadonlyMap<string, unknown> {
  return new Map([
    ...plan.interfaces.map(
      ({ device, name, address, port }) =>
        [`${device.name} ${name}`, [address, port?.switch.name, port?.name].join(' ')] as const,
    ),
    ...plan.legs.map(({ sender, index, group }) => [`${sender.label} ${index}`, String(group)] as const),
    ...plan.vlans.map(
      ({ name, id, subnet }) => [`VLAN ${name}`, [id, subnet?.network, subnet?.length].join(' ')] as const,
    ),
  ]);
}

describe('an earlier plan', () => {
  it('holds whole for the same request', () => {
    fc.assert(
      fc.property(shape, (one) => {
        const { plan } = met(allocate(requestOf(one)));
        expect(met(allocate(requestOf(one), { keep: [plan] })).plan).toEqual(plan);
      }),
      { numRuns: 25 },
    );
  });

  it('holds for whoever stays when devices come', () => {
    fc.assert(
      fc.property(shape, fc.integer({ min: 1, max: 12 }), (one, more) => {
        const [first, ...rest] = one.lines;
        if (first === undefined) return;
        const small = { ...one, switches: false };
        const { plan } = met(allocate(requestOf(small)));
        const grown = allocate(
          requestOf({
            ...small,
            lines: [{ ...first, count: first.count + more }, ...rest, { kind: first.kind, area: 2, count: more }],
          }),
          { keep: [plan] },
        );
        // A subnet that is outgrown is refused with the reason, never renumbered in silence.
        if ('refusals' in grown) {
          expect(grown.refusals.every(({ short, what }) => short !== undefined || what.length > 0)).toBe(true);
          return;
        }
        const now = numbersOf(resolved(grown.plan));
        for (const [key, value] of numbersOf(resolved(plan)))
          expect(`${key}: ${String(now.get(key))}`).toBe(`${key}: ${String(value)}`);
      }),
      { numRuns: 40 },
    );
  });

  it('gives a device that comes back the number it had', () => {
    fc.assert(
      fc.property(shape, (one) => {
        const request = requestOf({ ...one, switches: false });
        const { plan } = met(allocate(request));
        const [line] = request.devices;
        if (line?.count === undefined || line.count < 2) return;
        const without = withChange(request, { path: ['devices', 0, 'without'], value: [1] });
        const gone = met(allocate(without, { keep: [plan] })).plan;
        expect(resolved(gone).devices.some(({ name }) => name === `${line.name}-1`)).toBe(false);
        expect(numbersOf(resolved(met(allocate(request, { keep: [gone] })).plan))).toEqual(numbersOf(resolved(plan)));
      }),
      { numRuns: 25 },
    );
  });
});

describe('a request that does not fit', () => {
  it('says what is short by how much, and its change makes it fit', () => {
    fc.assert(
      fc.property(shape, fc.constantFrom('addresses', 'groups', 'vlanIds', 'ports'), (one, what) => {
        const request = requestOf({ ...one, switches: true });
        const tight =
          what === 'ports'
            ? { ...request, switches: (request.switches ?? []).map((box) => ({ ...box, ports: 1 })) }
            : {
                ...request,
                networks: request.networks.map((network) =>
                  network.name !== 'control' || what === 'groups'
                    ? network
                    : { ...network, ...(what === 'addresses' ? { addresses: '10.99.0.0/29' } : { vlanIds: '1' }) },
                ),
              };
        const fitting =
          what === 'groups'
            ? {
                ...tight,
                networks: tight.networks.map((network) =>
                  network.leg === undefined
                    ? network
                    : { ...network, groups: network.leg === 1 ? '239.10.1.0/28' : '239.11.1.0/28' },
                ),
              }
            : tight;
        const outcome = allocate(fitting);
        if (!('refusals' in outcome)) return;
        expect(outcome.refusals.length).toBeGreaterThan(0);
        for (const refusal of outcome.refusals) {
          expect(refusal.what).not.toBe('');
          if (refusal.short !== undefined) expect(refusal.short.needed).toBeGreaterThan(refusal.short.has);
        }
        if (outcome.refusals.length > 1) return;
        const [only] = outcome.refusals;
        if (only?.change === undefined) return;
        expect('refusals' in allocate(withChange(fitting, only.change))).toBe(false);
      }),
      { numRuns: 40 },
    );
  });
});

describe('the addresses of a plan', () => {
  it('are hosts of their subnets, outside DHCP', () => {
    fc.assert(
      fc.property(shape, (one) => {
        const plan = resolved(met(allocate(requestOf(one))).plan);
        for (const { address, vlan } of plan.interfaces) {
          if (address === undefined || vlan?.subnet === undefined) throw new Error('an interface without a number');
          const { first, last } = rangeOf(vlan.subnet);
          expect(isIPv4(address) && address > first && address < last).toBe(true);
          if (vlan.dhcp !== undefined) expect(inRange(address, vlan.dhcp)).toBe(false);
        }
      }),
      { numRuns: 30 },
    );
  });
});
