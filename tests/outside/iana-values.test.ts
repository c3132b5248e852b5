/**
 * Single rows of IANA's registries and examples of RFCs, each beside what the address tables and the rules say. Whole
 * registries are swept in `iana-registry.test.ts` where they are at hand.
 */
import { describe, expect, it } from 'vitest';
import publicAddress from '../../rules/hosts/public-address/rule.js';
import specialPurposeRule from '../../rules/hosts/special-purpose/rule.js';
import { lintInputs } from '../../src/lint/lint.js';
import * as space from '../../src/model/groups/multicast-space/index.js';
import {
  isGloballyReachableUnicast,
  isLoopback,
  isPrivateUse,
  SPECIAL_PURPOSE_4,
  SPECIAL_PURPOSE_6,
  specialPurpose,
} from '../../src/model/hosts/special-purpose.js';
import {
  formatPrefix,
  isMulticast,
  parseAddress,
  parseAddress4,
  parsePrefix,
  type Address,
  type Prefix,
} from '../../src/values/address.js';
import { formatMac } from '../../src/values/mac.js';

function required<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`unreadable: ${what}`);
  return value;
}

const addressOf = (text: string): Address => required(parseAddress(text), text);
const group4 = (text: string): number => required(parseAddress4(text), text);
const prefixOf = (text: string): Prefix => required(parsePrefix(text), text);

const yes = true;
const no = false;

/** Columns: Address Block, Name, RFC, Source, Destination, Forwardable, Globally Reachable; empty cells are left undefined. */
type Flag = boolean | undefined;
type Row = readonly [block: string, name: string, document: string, Flag, Flag, Flag, Flag];

/** IANA IPv4 Special-Purpose Address Registry. */
const ROWS_4: readonly Row[] = [
  ['0.0.0.0/8', '"This network"', 'RFC 791 §3.2', yes, no, no, no],
  ['10.0.0.0/8', 'Private-Use', 'RFC 1918', yes, yes, yes, no],
  ['100.64.0.0/10', 'Shared Address Space', 'RFC 6598', yes, yes, yes, no],
  ['127.0.0.0/8', 'Loopback', 'RFC 1122 §3.2.1.3', no, no, no, no],
  ['169.254.0.0/16', 'Link Local', 'RFC 3927', yes, yes, no, no],
  ['192.0.0.8/32', 'IPv4 dummy address', 'RFC 7600', yes, no, no, no],
  ['192.0.0.9/32', 'Port Control Protocol Anycast', 'RFC 7723', yes, yes, yes, yes],
  ['192.0.2.0/24', 'Documentation (TEST-NET-1)', 'RFC 5737', no, no, no, no],
  ['192.88.99.0/24', 'Deprecated (6to4 Relay Anycast)', 'RFC 7526', undefined, undefined, undefined, undefined],
  ['198.18.0.0/15', 'Benchmarking', 'RFC 2544', yes, yes, yes, no],
  ['240.0.0.0/4', 'Reserved', 'RFC 1112 §4', no, no, no, no],
  ['255.255.255.255/32', 'Limited Broadcast', 'RFC 919 §7', no, yes, no, no],
];

/** IANA IPv6 Special-Purpose Address Registry. */
const ROWS_6: readonly Row[] = [
  ['::1/128', 'Loopback Address', 'RFC 4291', no, no, no, no],
  ['::/128', 'Unspecified Address', 'RFC 4291', yes, no, no, no],
  ['::ffff:0:0/96', 'IPv4-mapped Address', 'RFC 4291', no, no, no, no],
  ['64:ff9b::/96', 'IPv4-IPv6 Translat.', 'RFC 6052', yes, yes, yes, yes],
  ['2001::/32', 'TEREDO', 'RFC 4380', yes, yes, yes, undefined],
  ['2001:2::/48', 'Benchmarking', 'RFC 5180', yes, yes, yes, no],
  ['2001:db8::/32', 'Documentation', 'RFC 3849', no, no, no, no],
  ['3fff::/20', 'Documentation', 'RFC 9637', no, no, no, no],
  ['5f00::/16', 'Segment Routing (SRv6) SIDs', 'RFC 9602', yes, yes, yes, no],
  ['fc00::/7', 'Unique-Local', 'RFC 4193', yes, yes, yes, no],
  ['fe80::/10', 'Link-Local Unicast', 'RFC 4291', yes, yes, no, no],
];

describe.each([
  ['IPv4', ROWS_4, SPECIAL_PURPOSE_4, 25],
  ['IPv6', ROWS_6, SPECIAL_PURPOSE_6, 25],
] as const)('IANA %s Special-Purpose Address Registry', (_family, rows, table, blocks) => {
  it('has as many blocks as our table', () => {
    expect(table).toHaveLength(blocks);
  });

  it.each(rows)('%s is %s (%s)', (block, name, document, ...flags) => {
    const ours = table.find(({ prefix }) => formatPrefix(prefix) === formatPrefix(prefixOf(block)));
    expect(ours?.name).toBe(name);
    expect(ours?.citation).toContain(document);
    expect([ours?.source, ours?.destination, ours?.forwardable, ours?.globallyReachable]).toEqual(flags);
  });
});

describe('the narrowest row decides (RFC 6890 §2.2)', () => {
  it.each([
    ['10.255.255.255', 'Private-Use', no],
    ['192.0.0.7', 'IPv4 Service Continuity Prefix', no], // 192.0.0.0/29 in 192.0.0.0/24
    ['192.0.0.9', 'Port Control Protocol Anycast', yes], // 192.0.0.9/32 in 192.0.0.0/24
    ['192.0.0.255', 'IETF Protocol Assignments', no], // 192.0.0.0/24
    ['255.255.255.254', 'Reserved', no],
    ['255.255.255.255', 'Limited Broadcast', no], // 255.255.255.255/32 in 240.0.0.0/4
    ['2001:1::1', 'Port Control Protocol Anycast', yes], // 2001:1::1/128 in 2001::/23
    ['2001:1ff::1', 'IETF Protocol Assignments', no], // 2001::/23
    ['2001:4:112::1', 'AS112-v6', yes], // 2001:4:112::/48 in 2001::/23
    ['febf:ffff::1', 'Link-Local Unicast', no],
  ] as const)('about %s: %s', (address, name, reachable) => {
    expect(specialPurpose(addressOf(address))?.name).toBe(name);
    expect(isGloballyReachableUnicast(addressOf(address))).toBe(reachable);
  });
});

describe('hosts in a row of the special-purpose registries', () => {
  it.each([
    // Source or Destination False: of no use to a host, apart from documentation, which works and misleads
    ['127.255.255.255', 'Loopback', 'error'],
    ['192.0.0.8', 'IPv4 dummy address', 'error'],
    ['250.1.2.3', 'Reserved', 'error'],
    ['::ffff:10.1.2.3', 'IPv4-mapped Address', 'error'],
    ['192.0.2.255', 'Documentation (TEST-NET-1)', 'warning'],
    ['2001:db8::1', 'Documentation', 'warning'],
    ['169.254.255.255', 'Link Local', 'warning'],
    ['100.127.255.255', 'Shared Address Space', 'note'],
    ['198.19.255.255', 'Benchmarking', 'note'],
    ['2001:2::1', 'Benchmarking', 'note'],
    ['192.168.255.255', undefined, undefined], // RFC 1918 §3
    ['fd00::1', undefined, undefined], // RFC 4193 §3
    ['fe80::1', undefined, undefined], // RFC 4291 §2.1
  ] as const)('%s: %s, %s', (address, name, severity) => {
    const host = { name: 'red', [address.includes(':') ? 'address6' : 'address']: address };
    const text = JSON.stringify({ devices: [{ name: 'cam', interfaces: [host] }] });
    const of = [specialPurposeRule, publicAddress];
    const { findings } = lintInputs([{ name: 'plan.json', text }], of, { today: '2026-06-01' });
    expect(findings.map((one) => [one.rule, (one.facts as { name: string }).name, one.severity])).toEqual(
      name === undefined ? [] : [['hosts/special-purpose', name, severity]],
    );
  });
});

describe('IANA IPv4 Address Space Registry, prefix and designation', () => {
  it.each([
    [0, 'IANA - Local Identification'],
    [9, undefined], // a company's
    [10, 'IANA - Private Use'],
    [11, undefined],
    [126, undefined],
    [127, 'IANA - Loopback'],
    [128, undefined],
    [223, undefined],
    [224, 'Multicast'],
    [239, 'Multicast'],
    [240, 'Future use'],
    [255, 'Future use'],
  ] as const)('%i/8: %s', (octet, designation) => {
    for (const address of [octet * 2 ** 24 + 1, (octet + 1) * 2 ** 24 - 2]) {
      expect(isMulticast(address)).toBe(designation === 'Multicast');
      expect(isLoopback(address)).toBe(designation === 'IANA - Loopback');
      expect(isPrivateUse(address)).toBe(designation === 'IANA - Private Use');
      expect(specialPurpose(address)?.name === 'Reserved').toBe(designation === 'Future use');
    }
  });
});

describe('IANA IPv4 Multicast Address Space Registry', () => {
  it.each([
    // Title of the registry's table, first and last address
    ['Local Network Control Block', '224.0.0.0', '224.0.0.255', 'local-network-control'],
    ['Internetwork Control Block', '224.0.1.0', '224.0.1.255', 'internetwork-control'],
    ['AD-HOC Block I', '224.0.2.0', '224.0.255.255', 'ad-hoc'],
    ['RESERVED (224.1/16)', '224.1.0.0', '224.1.255.255', 'reserved'],
    ['SDP/SAP Block', '224.2.0.0', '224.2.255.255', 'sdp-sap'],
    ['AD-HOC Block II', '224.3.0.0', '224.4.255.255', 'ad-hoc'],
    ['RESERVED (251 /16s)', '224.5.0.0', '224.251.255.255', 'reserved'],
    ['DIS Transient Groups', '224.252.0.0', '224.255.255.255', 'dis-transient'],
    ['RESERVED (7 /8s)', '225.0.0.0', '231.255.255.255', 'reserved'],
    ['Source-Specific, reserved (RFC 4607)', '232.0.0.0', '232.0.0.255', 'source-specific-reserved'],
    ['Source-Specific, local host allocation', '232.0.1.0', '232.255.255.255', 'source-specific'],
    ['GLOP Block', '233.0.0.0', '233.251.255.255', 'glop'],
    ['AD-HOC Block III', '233.252.0.0', '233.255.255.255', 'ad-hoc'],
    ['Unicast-Prefix-based', '234.0.0.0', '234.255.255.255', 'unicast-prefix'],
    ['Scoped Multicast Ranges, reserved', '235.0.0.0', '238.255.255.255', 'reserved'],
    ['Scoped Multicast Ranges', '239.0.0.0', '239.255.255.255', 'administratively-scoped'],
  ] as const)('%s: %s to %s', (_title, first, last, kind) => {
    expect([first, last].map((address) => space.classifyGroup4(group4(address)).kind)).toEqual([kind, kind]);
  });

  it.each([
    ['224.0.0.1', 'All Systems on this Subnet', 'RFC 1112'],
    ['224.0.0.22', 'IGMP', undefined],
    ['224.0.0.107', 'PTP-pdelay', undefined],
    ['224.0.0.251', 'mDNS', 'RFC 6762'],
    ['224.0.1.1', 'NTP Network Time Protocol', undefined],
    ['224.0.1.129', 'PTP-primary', undefined],
    ['224.2.127.254', 'SAPv1 Announcements', undefined],
    // Relative Addresses used with Scoped Multicast Addresses, offsets 0, 1, 5, 9, 253 and 255 (RFC 2365 §9)
    ['239.255.255.255', 'SAP Session Announcement Protocol', undefined],
    ['239.195.255.255', 'SAP Session Announcement Protocol', undefined],
    ['239.255.255.254', 'MADCAP Protocol', undefined],
    ['239.255.255.250', 'SSDP', undefined],
    ['239.195.255.246', 'UPnP', undefined],
    ['239.255.255.2', 'Reserved', undefined],
    ['239.255.255.0', 'Unassigned', undefined],
  ] as const)('%s is %s', (group, name, document) => {
    const ours = space.assignedGroup4(group4(group));
    expect(ours?.name).toBe(name);
    if (document !== undefined) expect(ours?.citation).toContain(document);
  });

  it.each(['224.0.0.3', '224.0.0.26', '224.0.0.69', '224.0.0.255', '224.0.1.38', '224.0.1.191', '224.0.2.0'])(
    '%s is unassigned',
    (group) => {
      expect(space.assignedGroup4(group4(group))).toBeUndefined();
    },
  );
});

describe('multicast MACs of groups', () => {
  it.each([
    ['224.0.0.1', '01:00:5e:00:00:01', 'RFC 1112 §6.4'],
    ['224.0.1.129', '01:00:5e:00:01:81', 'RFC 1112 §6.4'],
    ['224.2.127.254', '01:00:5e:02:7f:fe', 'RFC 1112 §6.4'],
    ['224.1.2.3', '01:00:5e:01:02:03', 'RFC 4541 §4'],
    ['239.129.2.3', '01:00:5e:01:02:03', 'RFC 4541 §4'],
    ['232.0.0.5', '01:00:5e:00:00:05', 'RFC 4541 §4'],
    ['239.255.255.250', '01:00:5e:7f:ff:fa', 'RFC 1112 §6.4'],
    ['ff02::1', '33:33:00:00:00:01', 'RFC 2464 §7'],
    ['ff02::fb', '33:33:00:00:00:fb', 'RFC 2464 §7'],
    ['ff02::1:ff25:8ec9', '33:33:ff:25:8e:c9', 'RFC 2464 §7'],
    ['ff3e::8000:1', '33:33:80:00:00:01', 'RFC 2464 §7'],
  ])('%s is sent to %s (%s)', (group, mac) => {
    expect(isMulticast(addressOf(group))).toBe(true);
    expect(formatMac(space.ethernetAddress(addressOf(group)))).toBe(mac);
    if (!group.includes(':')) {
      expect(space.floodedEthernetAddress(group4(group))).toBe(mac.startsWith('01:00:5e:00:00:'));
    }
  });
});

describe('groups that go with a number or a prefix', () => {
  it.each([
    [5662, '233.22.30.0/24', 'RFC 3180 §3.1', no],
    [64496, '233.251.240.0/24', 'RFC 6676 §2.2', yes],
    [64511, '233.251.255.0/24', 'RFC 6676 §2.2', yes],
  ] as const)('AS %i holds %s (%s)', (asn, prefix, _source, documentation) => {
    const held = required(space.glopPrefix(asn), prefix);
    expect(formatPrefix(held)).toBe(prefix);
    expect(space.glopAutonomousSystem(Number(held.network))).toBe(asn);
    expect(space.isDocumentationGroup(held.network)).toBe(documentation);
  });

  it.each([
    ['192.0.2.0/24', '234.192.0.2', 'RFC 6034 §4'],
    ['198.51.100.0/24', '234.198.51.100', 'RFC 6676 §2.3'],
    ['203.0.113.0/24', '234.203.0.113', 'RFC 6676 §2.3'],
  ])('%s holds %s (%s)', (unicast, group) => {
    expect(formatPrefix(required(space.embeddedUnicastPrefix(group4(group)), group))).toBe(unicast);
    expect(space.ownsGroupByPrefix(prefixOf(unicast), group4(group))).toBe(true);
    expect(space.isDocumentationGroup(group4(group))).toBe(true);
  });

  it.each([
    ['239.255.0.0/16', 0, '239.255.255.255', 'RFC 2365 §9'],
    ['239.255.0.0/16', 1, '239.255.255.254', 'RFC 2365 §9'],
    ['239.255.0.0/16', 10, '239.255.255.245', 'RFC 6676 §2.1'],
    ['239.192.0.0/14', 0, '239.195.255.255', 'RFC 2365 §9'],
  ] as const)('the top of %s less %i is %s (%s)', (scope, offset, group, source) => {
    expect(space.scopeRelativeOffset(group4(group), prefixOf(scope)), source).toBe(offset);
    expect(space.isDocumentationGroup(group4(group))).toBe(offset === 10);
  });
});
