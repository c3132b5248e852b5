/** Whether subnets fit a small block, against trying every place for each of them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate } from '../../src/allocate/allocate.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';

/** One network of several VLANs, so many boxes in each, numbered as densely as can be. */
function requestFor(counts: readonly number[], addresses: string, clear: readonly string[]): RawRequest {
  const text = JSON.stringify({
    rig: 'Sanderling',
    growth: 0,
    pattern: { hosts: 'place' },
    networks: [{ name: 'control', role: 'control', addresses }],
    vlans: counts.map((_, index) => ({ name: `part-${index}`, network: 'control' })),
    kinds: counts.map((_, index) => ({
      name: `box-${index}`,
      interfaces: [{ name: 'control', vlan: `part-${index}` }],
    })),
    devices: counts.map((count, index) => ({ name: `b${index}`, kind: `box-${index}`, count, spare: 0 })),
    keepClear: { addresses: clear },
  });
  const { document, problems } = readRequest({ name: 'request.json', text });
  expect(problems).toEqual([]);
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

function subnetsOf(request: RawRequest): readonly (readonly [first: number, size: number])[] | undefined {
  const outcome = allocate(request);
  if ('refusals' in outcome) return undefined;
  return (outcome.plan.vlans ?? []).map(({ subnet = '' }) => {
    const [address = '', length = '32'] = subnet.split('/');
    return [address.split('.').reduce((sum, part) => sum * 256 + Number(part), 0), 2 ** (32 - Number(length))] as const;
  });
}

/** Tries every aligned place for every subnet, one after the other. */
function fits(sizes: readonly number[], room: number, taken: readonly (readonly [number, number])[]): boolean {
  const [size, ...rest] = sizes;
  if (size === undefined) return true;
  for (let at = 0; at + size <= room; at += size) {
    if (taken.some(([first, length]) => at < first + length && first < at + size)) continue;
    if (fits(rest, room, [...taken, [at, size]])) return true;
  }
  return false;
}

describe('subnets in a block', () => {
  it('fit exactly where some way of placing them does', () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 6, max: 8 }),
        fc.uniqueArray(fc.integer({ min: 0, max: 15 }), { maxLength: 3 }),
        (counts, bits, holes) => {
          // How large each has to be, where there is room for all.
          const sizes = subnetsOf(requestFor(counts, '10.64.0.0/16', []))?.map(([, size]) => size) ?? [];
          expect(sizes).toHaveLength(counts.length);
          const room = 2 ** bits;
          const taken = holes.filter((hole) => (hole + 1) * 16 <= room).map((hole) => [hole * 16, 16] as const);
          const clear = taken.map(([first]) => `10.65.0.${first}/28`);
          const placed = subnetsOf(requestFor(counts, `10.65.0.0/${32 - bits}`, clear));
          const feasible = fits(
            [...sizes].sort((a, b) => b - a),
            room,
            taken,
          );
          if (placed === undefined) refused++;
          expect(placed !== undefined).toBe(feasible);
        },
      ),
      { numRuns: 150 },
    );
    // The blocks are small enough that both answers come up.
    expect(refused).toBeGreaterThan(5);
    expect(refused).toBeLessThan(145);
  });
});
