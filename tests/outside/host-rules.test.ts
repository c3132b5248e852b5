/**
 * The rules about hosts and subnets against published tables: what they report for addresses and sizes that a document
 * lists. Tables of IANA are read from `../shared/data` where that folder lies beside the project.
 */
import { skipped, textOf, unpublished } from '../tools/outside.js';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Rule } from '../../src/lint/rule.js';
import { hostRange, hostsPerSubnet4 } from '../../src/model/hosts/host-addresses.js';
import { formatAddress, formatRange, parsePrefix, rangeOf, type Prefix } from '../../src/values/address.js';
import unusableMac from '../../rules/hosts/unusable-mac/rule.js';
import networkOrBroadcast from '../../rules/hosts/network-or-broadcast/rule.js';
import publicAddress from '../../rules/hosts/public-address/rule.js';
import specialPurpose from '../../rules/hosts/special-purpose/rule.js';
import nearlyFull from '../../rules/subnets/nearly-full/rule.js';
import type { Facts as Edge } from '../../rules/hosts/network-or-broadcast/words.js';
import type { Facts as SpecialPurpose } from '../../rules/hosts/special-purpose/words.js';
import type { Facts as NearlyFull } from '../../rules/subnets/nearly-full/words.js';

function findings(rule: Rule, plan: object): readonly Finding[] {
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], [rule], { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

function onHost(rule: Rule, address: string, more: object = {}): readonly Finding[] {
  return findings(rule, {
    devices: [
      { name: 'cam', interfaces: [{ name: 'red', [address.includes(':') ? 'address6' : 'address']: address }] },
    ],
    ...more,
  });
}

function prefix(text: string): Prefix {
  const parsed = parsePrefix(text);
  if (parsed === undefined) throw new Error(`not a prefix: ${text}`);
  return parsed;
}

/** Hosts of a subnet: RFC 1878 Table 1-1 (/17 to /23) and Table 1-2 (/25 to /30). Its /24 row, 253, contradicts the others. */
const RFC_1878_HOSTS: readonly (readonly [number, number])[] = [
  [17, 32766],
  [18, 16382],
  [19, 8190],
  [20, 4094],
  [21, 2046],
  [22, 1022],
  [23, 510],
  [25, 126],
  [26, 62],
  [27, 30],
  [28, 14],
  [29, 6],
  [30, 2],
];

/** Network, host range and broadcast address of subnets: RFC 1878 Table 1-2, with 10.20.10 for its N.N.N. */
const RFC_1878_RANGES: readonly (readonly [string, number, number, number])[] = [
  ['10.20.10.0/25', 1, 126, 127],
  ['10.20.10.128/25', 129, 254, 255],
  ['10.20.10.64/26', 65, 126, 127],
  ['10.20.10.192/26', 193, 254, 255],
  ['10.20.10.96/27', 97, 126, 127],
  ['10.20.10.224/27', 225, 254, 255],
  ['10.20.10.16/28', 17, 30, 31],
  ['10.20.10.176/28', 177, 190, 191],
  ['10.20.10.8/29', 9, 14, 15],
  ['10.20.10.240/29', 241, 246, 247],
  ['10.20.10.4/30', 5, 6, 7],
  ['10.20.10.248/30', 249, 250, 251],
];

describe('RFC 1878', () => {
  it.each(RFC_1878_HOSTS)('a /%i takes %i hosts', (length, hosts) => {
    expect(hostsPerSubnet4(length)).toBe(hosts);
    const plan = {
      conventions: { thresholds: { 'subnets/nearly-full.percent': 50 } },
      vlans: [{ name: 'control', subnet: `10.20.0.0/${length}`, dhcp: `10.20.0.0/${length}` }],
    };
    const found = findings(nearlyFull, plan).map((finding) => finding.facts as NearlyFull);
    // A link between two boxes may be full.
    if (length === 30) expect(found).toEqual([]);
    else
      expect(found).toEqual([
        expect.objectContaining({
          vlan: expect.objectContaining({ name: 'control' }) as object,
          subnet: `10.20.0.0/${length}`,
          usable: hosts,
          used: hosts,
          fixed: 0,
          dhcp: hosts,
          unnumbered: 0,
        }),
      ]);
  });

  it.each(RFC_1878_RANGES)('%s has hosts .%i to .%i and broadcast .%i', (subnet, first, last, broadcast) => {
    expect(formatRange(hostRange(prefix(subnet)))).toBe(`10.20.10.${first}-10.20.10.${last}`);
    const length = subnet.split('/')[1] ?? '';
    const network = subnet.split('/')[0] ?? '';
    for (const [address, kind] of [
      [network, 'network'],
      [`10.20.10.${broadcast}`, 'broadcast'],
    ] as const) {
      const found = onHost(networkOrBroadcast, `${address}/${length}`).map((finding) => finding.facts as Edge);
      expect(found).toEqual([{ address, holder: 'cam red', kind, subnet, free: undefined }]);
    }
    for (const host of [first, last]) expect(onHost(networkOrBroadcast, `10.20.10.${host}/${length}`)).toEqual([]);
  });
});

describe('RFC 3021 §2.1: a 31-bit prefix has two hosts', () => {
  it.each(['10.20.60.0/31', '10.20.60.1/31', '10.20.60.254/31', '10.20.60.255/31'])('%s is a host', (address) => {
    expect(onHost(networkOrBroadcast, address)).toEqual([]);
  });

  it('a third box is one too many', () => {
    const devices = ['a', 'b', 'c'].map((name) => ({ name, interfaces: [{ name: 'wan', vlan: 'circuit' }] }));
    const plan = (count: number): object => ({
      vlans: [{ name: 'circuit', subnet: '10.20.60.0/31' }],
      devices: devices.slice(0, count),
    });
    expect(findings(nearlyFull, plan(2))).toEqual([]);
    expect(findings(nearlyFull, plan(3)).map((finding) => finding.severity)).toEqual(['error']);
  });
});

describe('RFC 4291 §2.6.1: the subnet-router anycast address', () => {
  it('is the prefix with an interface identifier of zero', () => {
    expect(onHost(networkOrBroadcast, 'fd20:10::/64').map((finding) => finding.severity)).toEqual(['warning']);
    expect(onHost(networkOrBroadcast, 'fd20:10::1/64')).toEqual([]);
  });

  it('is switched off on a /127 (RFC 6164 §6)', () => {
    expect(onHost(networkOrBroadcast, 'fd20:60::/127')).toEqual([]);
  });
});

describe('RFC 5737 §3 and RFC 3849 §2: documentation addresses', () => {
  it.each([
    ['192.0.2.1', 'TEST-NET-1'],
    ['198.51.100.1', 'TEST-NET-2'],
    ['203.0.113.254', 'TEST-NET-3'],
    ['2001:db8::1', 'Documentation'],
  ])('%s is %s', (address, name) => {
    const found = onHost(specialPurpose, address);
    expect(found.map((finding) => finding.severity)).toEqual(['warning']);
    expect(found.map((finding) => (finding.facts as SpecialPurpose).name)).toEqual([expect.stringContaining(name)]);
  });
});

describe('RFC 1918 §3: private blocks', () => {
  it.each(['10.0.0.1', '10.255.255.254', '172.16.0.1', '172.31.255.254', '192.168.0.1', '192.168.255.254'])(
    '%s is private',
    (address) => {
      expect(onHost(publicAddress, address)).toEqual([]);
      expect(onHost(specialPurpose, address)).toEqual([]);
    },
  );

  it.each(['9.255.255.254', '11.0.0.1', '172.15.255.254', '172.32.0.1', '192.167.255.254', '192.169.0.1'])(
    '%s is next to it and public',
    (address) => {
      expect(onHost(publicAddress, address).map((finding) => finding.severity)).toEqual(['warning']);
      expect(onHost(publicAddress, address, { conventions: { prefixes: [`${address}/32`] } })).toEqual([]);
      expect(onHost(specialPurpose, address)).toEqual([]);
    },
  );
});

describe('MAC addresses', () => {
  const withMac = (mac: string): readonly string[] =>
    findings(unusableMac, { devices: [{ name: 'cam', interfaces: [{ name: 'red', mac }] }] }).map(
      (finding) => finding.severity,
    );

  // RFC 9542 (RFC 7042 before it), documentation values; their ends; from memory.
  it.each(['00-00-5E-00-53-00', '00-00-5E-00-53-FF'])('%s is for one interface', (mac) => {
    expect(withMac(mac)).toEqual([]);
  });

  it.each(['01-00-5E-90-10-00', '01-00-5E-90-10-FF'])('%s is for a group', (mac) => {
    expect(withMac(mac)).toEqual(['error']);
  });

  // RFC 9568 §7.3.
  it.each(['00-00-5E-00-01-01', '00-00-5E-00-01-FF', '00-00-5E-00-02-01'])("%s is a virtual router's", (mac) => {
    expect(withMac(mac)).toEqual(['warning']);
  });
});

interface RegistryRow {
  readonly 'Address Block': string;
  readonly Name: string;
  readonly RFC: string;
  readonly Source: string;
  readonly Destination: string;
}

/** Some names of the registry come with quotes of their own. */
function unquoted(name: string): string {
  return name.replaceAll('"', '');
}

/** Blocks that are for hosts of a rig: RFC 1918 §3, RFC 4193 §3; RFC 4291 §2.1 demands a link-local address of every interface. */
const FOR_HOSTS = ['Private-Use', 'Unique-Local', 'Link-Local Unicast'];

describe.each(['iana-ipv4-special-registry-1.csv', 'iana-ipv6-special-registry-1.csv'])(
  'IANA %s (RFC 6890 §2.2)',
  (file) => {
    const missing = unpublished(`iana/${file}`);
    const rows = missing === undefined ? parse<RegistryRow>(textOf(`iana/${file}`), { columns: true }) : [];
    const blocks = rows.flatMap((row) =>
      row['Address Block'].split(',').map((text) => ({ row, prefix: prefix(text.replace(/\[\d+\]/, '').trim()) })),
    );

    it.skipIf(missing !== undefined)(
      `an address of each block is reported as the registry says${skipped(missing)}`,
      () => {
        let compared = 0;
        for (const { prefix: block } of blocks) {
          const address = rangeOf(block).last;
          const holders = blocks.filter(
            (one) =>
              typeof one.prefix.network === typeof address &&
              rangeOf(one.prefix).first <= address &&
              address <= rangeOf(one.prefix).last,
          );
          const { row } = holders.reduce((a, b) => (b.prefix.length > a.prefix.length ? b : a));
          const text = formatAddress(address);
          const found = onHost(specialPurpose, text);
          compared++;
          if (FOR_HOSTS.includes(row.Name)) {
            expect(found, text).toEqual([]);
            continue;
          }
          const [finding] = found;
          expect(found, text).toHaveLength(1);
          const facts = finding?.facts as SpecialPurpose;
          expect(facts.held, text).toEqual([expect.objectContaining({ address: text })]);
          expect(unquoted(facts.name), text).toBe(unquoted(row.Name));
          for (const [, number] of row.RFC.matchAll(/RFC(\d+)/g))
            expect(facts.citation, text).toContain(`RFC ${number ?? ''}`);
          const useless = row.Source.startsWith('False') || row.Destination.startsWith('False');
          if (useless && !row.Name.startsWith('Documentation')) expect(finding?.severity, text).toBe('error');
          else
            expect(finding?.severity, text).toBe(
              ['Shared Address Space', 'Benchmarking'].includes(row.Name) ? 'note' : 'warning',
            );
          expect(onHost(publicAddress, text), text).toEqual([]);
        }
        expect(compared).toBeGreaterThan(20);
      },
    );
  },
);
