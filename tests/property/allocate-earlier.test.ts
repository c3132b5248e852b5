/** Earlier plans keep their numbers; requests that do not fit are refused with what does. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate } from '../../src/allocate/allocate.js';
import { withChange } from '../../src/allocate/refusal.js';
import { inRange, isIPv4, rangeOf } from '../../src/values/address.js';
import { met, numbersOf, requestOf, resolved, shape } from '../tools/random-shapes.js';

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
