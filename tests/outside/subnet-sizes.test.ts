/**
 * Sizes of subnets against the published table (RFC 1878 Table 1-2) and an independent library (ipaddr.js), and places in
 * blocks against CIDR nesting as RFC 4632 §3.1 has it.
 */
import fc from 'fast-check';
import ipaddr from 'ipaddr.js';
import { describe, expect, it } from 'vitest';
import { allocate } from '../../src/allocate/allocate.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';
import { hostsPerSubnet4 } from '../../src/model/hosts/host-addresses.js';

/** RFC 1878 Table 1-2, hosts of a class C network's subnets and larger ones: prefix length and usable hosts. */
const TABLE_1_2: readonly (readonly [length: number, hosts: number])[] = [
  [30, 2],
  [29, 6],
  [28, 14],
  [27, 30],
  [26, 62],
  [25, 126],
  [24, 254],
  [23, 510],
  [22, 1022],
  [21, 2046],
  [20, 4094],
  [19, 8190],
  [18, 16_382],
  [17, 32_766],
  [16, 65_534],
];

function requestFor(count: number, growth: number, dhcp: number): RawRequest {
  const text = JSON.stringify({
    rig: 'Sanderling',
    growth,
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'blue', role: 'media', leg: 2 },
      { name: 'control', role: 'control', dhcp },
    ],
    kinds: [
      {
        name: 'camera',
        interfaces: ['red', 'blue', 'control'].map((name) => ({ name, network: name })),
        senders: [{ name: 'picture', essence: 'video' }],
      },
    ],
    devices: [{ name: 'cam', kind: 'camera', count }],
  });
  const { document } = readRequest({ name: 'request.json', text });
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

describe('hosts of a subnet', () => {
  it.each(TABLE_1_2)('/%d: %d (RFC 1878 Table 1-2)', (length, hosts) => {
    expect(hostsPerSubnet4(length)).toBe(hosts);
  });
});

describe('subnets of an allocated plan', () => {
  it('hold their hosts, are aligned, lie apart, and are no larger than four times what is needed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 600 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 0, max: 60 }),
        (count, growth, dhcp) => {
          const outcome = allocate(requestFor(count, growth, dhcp));
          if ('refusals' in outcome) throw new Error(outcome.refusals.map(({ what }) => what).join('; '));
          const vlans = outcome.plan.vlans ?? [];
          const blocks = vlans.map(({ subnet = '' }) => ipaddr.IPv4.parseCIDR(subnet));
          vlans.forEach(({ subnet = '', name }, index) => {
            const first = ipaddr.IPv4.networkAddressFromCIDR(subnet);
            const last = ipaddr.IPv4.broadcastAddressFromCIDR(subnet);
            // RFC 4632 §3.1: a block begins at a multiple of its size.
            expect(`${first.toString()}/${blocks[index]?.[1] ?? 0}`).toBe(subnet);
            const size = 2 ** (32 - (blocks[index]?.[1] ?? 32));
            const needed = count + (name === 'control' ? dhcp : 0);
            expect(size - 2).toBeGreaterThanOrEqual(needed);
            expect(size).toBeLessThanOrEqual(Math.max(256, 8 * (needed * (1 + growth / 100) + 32)));
            for (const { interfaces = [] } of outcome.plan.devices ?? []) {
              const address = interfaces.find((via) => via.name === name)?.address?.split('/')[0] ?? '';
              const parsed = ipaddr.IPv4.parse(address);
              expect(parsed.match([first, blocks[index]?.[1] ?? 0])).toBe(true);
              expect([first.toString(), last.toString()]).not.toContain(address);
            }
            blocks.forEach((other, place) => {
              if (place !== index) expect(first.match(other)).toBe(false);
            });
          });
        },
      ),
      { numRuns: 30 },
    );
  });
});
