/** Laws of every allocation: clean, the same each time, mirrored, clear of others, readable by its own legend. */
import { worded } from '../tools/worded.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { allocate, type Allocation } from '../../src/allocate/allocate.js';
import { groupReader } from '../../src/allocate/legend.js';
import { planText } from '../../src/allocate/plan-text.js';
import type { RawRequest } from '../../src/allocate/request.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { check } from '../../src/read/checks/request.js';
import { readYaml } from '../../src/read/yaml.js';
import { randomRequest } from './random-request.js';

const RUNS = { numRuns: 60 };

function allocated(request: RawRequest, keep: readonly Allocation['plan'][] = []): Allocation {
  expect(check(request).map(({ instancePath, message }) => `${instancePath} ${message ?? ''}`)).toEqual([]);
  const outcome = allocate(request, { keep });
  if ('refusals' in outcome) throw new Error(JSON.stringify(outcome.refusals, null, 1));
  return outcome;
}

function findings(...texts: readonly string[]): readonly string[] {
  const result = lintInputs(
    texts.map((text, index) => ({ name: `plan-${index}.yaml`, text })),
    RULES,
    { today: '2026-06-01' },
  );
  return [
    ...result.problems.map(({ what }) => what),
    ...result.crashed.map(({ rule, message }) => `${rule}: ${message}`),
    ...result.findings.map(worded).map(({ severity, rule, what }) => `${severity} ${rule} ${what}`),
  ];
}

describe('an allocated plan', () => {
  it('lints without an error, a warning or a note', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        expect(findings(planText(allocated(request), request))).toEqual([]);
      }),
      RUNS,
    );
  });

  it('reads back from its text to the same tree', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        const allocation = allocated(request);
        expect(readYaml('plan.yaml', planText(allocation, request)).document?.value).toEqual(
          JSON.parse(JSON.stringify(allocation.plan)),
        );
      }),
      RUNS,
    );
  });

  it('is the same each time, also with itself kept', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        const first = allocated(request);
        expect(planText(allocated(request), request)).toBe(planText(first, request));
        expect(planText(allocated(request, [first.plan]), request)).toBe(planText(first, request));
      }),
      RUNS,
    );
  });

  it('is readable by its own legend', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        const { plan } = allocated(request);
        const read = groupReader(plan);
        for (const device of plan.devices ?? []) {
          const units = new Set<number>();
          for (const { name, legs = [] } of device.senders ?? []) {
            const readings = legs.map(({ group }) => read(value(group)));
            expect(new Set(readings.map((one) => one?.stream)).size, `${device.name}/${name}`).toBe(1);
            for (const reading of readings) {
              units.add(reading?.unit ?? 0);
              expect(device.name.startsWith(reading?.devices ?? '?')).toBe(true);
              expect(reading?.areaName).toBe(device.area);
            }
          }
          expect(units.size).toBeLessThan(2);
          if (plan.numbering?.hosts === 'unit')
            for (const { address } of device.interfaces ?? []) units.add(value(address) % 256);
        }
      }),
      RUNS,
    );
  });
});

describe('the second leg', () => {
  it('follows the first number by number', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        const { plan } = allocated(request);
        const { groups = [], sources = [] } = plan.conventions?.legMap ?? {};
        const image = (first: number, map: typeof groups): number | undefined => {
          for (const entry of map) {
            const [base, length = 32] = entry.first
              .split('/')
              .map((part, index) => (index === 0 ? value(part) : Number(part)));
            if (base !== undefined && first >= base && first < base + 2 ** (32 - length))
              return first - base + value(entry.second);
          }
          return undefined;
        };
        const twoLegged = request.networks.some(({ leg }) => leg === 2);
        expect(groups.length).toBe(twoLegged ? 1 : 0);
        for (const { interfaces = [], senders = [] } of plan.devices ?? []) {
          for (const { legs = [] } of senders) {
            expect(legs.length).toBe(twoLegged ? 2 : 1);
            if (twoLegged) expect(value(legs[1]?.group)).toBe(image(value(legs[0]?.group), groups));
          }
          const [red, blue] = ['red', 'blue'].map((name) => interfaces.find((one) => one.name === name)?.address);
          if (twoLegged) expect(value(blue)).toBe(image(value(red), sources));
        }
      }),
      RUNS,
    );
  });
});

describe('what is to be kept clear of', () => {
  it('has no address, group, alias or VLAN id of the plan', () => {
    fc.assert(
      fc.property(randomRequest, (request) => {
        const { plan } = allocated(request);
        const { addresses = [], groups = [], vlanIds = [] } = request.keepClear ?? {};
        const own = [
          ...(plan.devices ?? []).flatMap(({ interfaces = [] }) => interfaces.map(({ address }) => value(address))),
          ...(plan.switches ?? []).flatMap((one) => (one.addresses ?? []).map(({ address }) => value(address))),
          ...(plan.vlans ?? []).flatMap(({ gateway, igmp }) => [
            value(gateway),
            ...(igmp?.querier ?? []).map(({ address }) => value(address)),
          ]),
        ];
        for (const [first, last] of addresses.map(span))
          expect(own.filter((one) => one >= first && one <= last)).toEqual([]);
        // RFC 1112 §6.4: groups with the same low 23 bits share a multicast MAC.
        const sent = (plan.devices ?? []).flatMap(({ senders = [] }) =>
          senders.flatMap(({ legs = [] }) => legs.map(({ group }) => value(group))),
        );
        for (const [first, last] of groups.map(span))
          for (const group of sent) expect((group - first + 2 ** 32) % 2 ** 23 > last - first).toBe(true);
        expect(new Set(sent.map((group) => group % 2 ** 23)).size).toBe(sent.length);
        const ids = new Set((plan.vlans ?? []).map(({ id }) => id));
        for (const text of vlanIds) {
          const [from = 0, to = from] = String(text).split('-').map(Number);
          for (let id = from; id <= to; id++) expect(ids.has(id)).toBe(false);
        }
      }),
      RUNS,
    );
  });

  it('may be another plan: linted together the two give nothing', () => {
    fc.assert(
      fc.property(randomRequest, randomRequest, (request, other) => {
        const first = planText(allocated(request), request);
        const [plan] = [loadPlan([{ name: 'first.yaml', text: first }]).plan];
        const second = renamed(other);
        const outcome = allocate(second, { plans: [plan] });
        if ('refusals' in outcome) throw new Error(JSON.stringify(outcome.refusals));
        expect(findings(first, planText(outcome, second))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});

describe('a kept plan', () => {
  it('holds all its numbers when boxes and a line are added', () => {
    fc.assert(
      fc.property(randomRequest, fc.nat(6), fc.integer({ min: 1, max: 12 }), (request, pick, more) => {
        const first = allocated(request);
        const index = pick % request.devices.length;
        const grown: RawRequest = {
          ...request,
          switches: (request.switches ?? []).map((one) => ({ ...one, ports: one.ports + 40 })),
          devices: [
            ...request.devices.map((line, at) =>
              at === index && line.count !== undefined ? { ...line, count: line.count + more } : line,
            ),
            { name: 'late', kind: request.devices[index]?.kind ?? '', area: 'tower', count: more },
          ],
        };
        const outcome = allocate(grown, { keep: [first.plan] });
        if ('refusals' in outcome) {
          // Only for want of room, and then with the smallest move, which was tried.
          for (const { short, change } of outcome.refusals) {
            expect(short?.needed).toBeGreaterThan(short?.has ?? Infinity);
            expect(change?.path).toEqual(['moves']);
          }
          return;
        }
        expect(findings(planText(outcome, grown))).toEqual([]);
        const now = new Map((outcome.plan.devices ?? []).map((device) => [device.name, device]));
        for (const device of first.plan.devices ?? []) {
          const same = now.get(device.name);
          expect(same?.interfaces).toEqual(device.interfaces);
          expect(same?.senders).toEqual(device.senders);
        }
        expect(outcome.plan.vlans).toEqual(first.plan.vlans);
      }),
      RUNS,
    );
  });

  it('gives a box its numbers back when it returns', () => {
    fc.assert(
      fc.property(randomRequest, fc.nat(6), fc.boolean(), (request, pick, whole) => {
        const first = allocated(request);
        const index = pick % request.devices.length;
        const gone = request.devices[index];
        if (gone === undefined || gone.kind === 'clock') return;
        const kinds = (lines: RawRequest['devices']): RawRequest['kinds'] =>
          request.kinds.filter(({ name }) => lines.some(({ kind }) => kind === name));
        const devices =
          whole || gone.count === undefined || gone.count < 2
            ? request.devices.filter((line) => line !== gone)
            : request.devices.map((line) => (line === gone ? { ...line, count: (gone.count ?? 2) - 1 } : line));
        if (devices.length === 0) return;
        const less: RawRequest = { ...request, devices, kinds: kinds(devices), switches: request.switches ?? [] };
        const used = less.kinds.flatMap(({ interfaces = [] }) => interfaces.map(({ vlan }) => vlan));
        const vlans = (request.vlans ?? []).filter(({ name }) => used.includes(name));
        if (vlans.length < (request.vlans ?? []).length) return;
        // A network that nobody is left on is refused, which is another law.
        const tried = allocate(less, { keep: [first.plan] });
        if ('refusals' in tried && tried.refusals.every(({ what }) => what.startsWith('nothing stands in'))) return;
        const between = allocated(less, [first.plan]);
        const again = allocated(request, [between.plan]);
        expect(again.plan.devices).toEqual(first.plan.devices);
      }),
      RUNS,
    );
  });
});

/** The request of another rig: other names for all that people say on the radio. */
function renamed(request: RawRequest): RawRequest {
  return {
    ...request,
    rig: 'Sanderling',
    devices: request.devices.map((line) => ({ ...line, name: `isle ${line.name}` })),
    switches: (request.switches ?? []).map((one) => ({ ...one, name: `isle ${one.name}` })),
  };
}

function span(text: string): readonly [number, number] {
  const [base = '', length = '32'] = text.split('/');
  return [value(base), value(base) + 2 ** (32 - Number(length)) - 1];
}

function value(address: string | undefined): number {
  return (address ?? '0.0.0.0')
    .replace(/\/.*/, '')
    .split('.')
    .reduce((sum, part) => sum * 256 + Number(part), 0);
}
