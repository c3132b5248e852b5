/**
 * Laws of allocation over random requests: the plan is clean, alone and beside what it had to keep clear of; the second
 * leg mirrors the first; groups read back by the legend; the same request gives the same plan, and an earlier one holds.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { allocate } from '../../src/allocate/allocate.js';
import { groupReader } from '../../src/allocate/legend.js';
import { planText } from '../../src/allocate/plan-text.js';
import { lintInputs } from '../../src/lint/lint.js';
import { mergeRigs } from '../../src/merge/merge.js';
import { ethernetAddress } from '../../src/model/groups/multicast-space/ethernet.js';
import { inRange, rangeOf } from '../../src/values/address.js';
import { rigInput } from '../tools/two-rigs.js';
import { TODAY, shape, requestOf, onSite, planOf, met, resolved, said } from '../tools/random-shapes.js';

describe('an allocated plan', () => {
  it('is clean as the file that is written, and joined with what it keeps clear of', () => {
    fc.assert(
      fc.property(shape, onSite, (one, rig) => {
        const request = requestOf(one);
        const allocation = met(allocate(request, { plans: [planOf(rig)] }));
        const text = planText(allocation, request);
        const alone = lintInputs([{ name: 'sanderling.yaml', text }], RULES, { today: TODAY });
        expect(alone.problems).toEqual([]);
        expect(alone.crashed).toEqual([]);
        expect(said(alone.findings)).toEqual([]);
        const joined = mergeRigs(
          [{ from: 'sanderling.yaml', inputs: [{ name: 'sanderling.yaml', text }] }, rigInput(rig)],
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

  it('shares no multicast MAC, subnet or VLAN id with what it keeps clear of', () => {
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
