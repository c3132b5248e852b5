/**
 * Longer than a file should be: tables of published values and nothing else, which are read side by side.
 */
import { describe, expect, it } from 'vitest';
import * as space from '../../src/model/groups/multicast-space/index.js';
import {
  formatAddress,
  formatPrefix,
  formatRange,
  parseAddress,
  parsePrefix,
  type Prefix,
} from '../../src/values/address.js';
import { formatMac } from '../../src/values/mac.js';
import { ratio } from '../tools/growth.js';

function group4(text: string): number {
  const value = parseAddress(text);
  if (typeof value !== 'number') throw new Error(`the test itself is at fault: ${text}`);
  return value;
}

function group6(text: string): bigint {
  const value = parseAddress(text);
  if (typeof value !== 'bigint') throw new Error(`the test itself is at fault: ${text}`);
  return value;
}

function prefix(text: string): Prefix {
  const value = parsePrefix(text);
  if (value === undefined) throw new Error(`the test itself is at fault: ${text}`);
  return value;
}

describe('blocks of 224.0.0.0/4', () => {
  // The table of RFC 5771 §3, with the two blocks IANA's registry has changed since: 234/8 and 224.252/14.
  it.each([
    ['224.0.0.0', '224.0.0.255', 'local-network-control', 256],
    ['224.0.1.0', '224.0.1.255', 'internetwork-control', 256],
    ['224.0.2.0', '224.0.255.255', 'ad-hoc', 65024],
    ['224.1.0.0', '224.1.255.255', 'reserved', 65536],
    ['224.2.0.0', '224.2.255.255', 'sdp-sap', 65536],
    ['224.3.0.0', '224.4.255.255', 'ad-hoc', 131072],
    ['224.5.0.0', '224.251.255.255', 'reserved', 247 * 65536],
    ['224.252.0.0', '224.255.255.255', 'dis-transient', 262144],
    ['225.0.0.0', '231.255.255.255', 'reserved', 7 * 2 ** 24],
    ['232.0.0.0', '232.0.0.255', 'source-specific-reserved', 256],
    ['232.0.1.0', '232.255.255.255', 'source-specific', 2 ** 24 - 256],
    ['233.0.0.0', '233.251.255.255', 'glop', 16515072],
    ['233.252.0.0', '233.255.255.255', 'ad-hoc', 262144],
    ['234.0.0.0', '234.255.255.255', 'unicast-prefix', 2 ** 24],
    ['235.0.0.0', '238.255.255.255', 'reserved', 4 * 2 ** 24],
    ['239.0.0.0', '239.255.255.255', 'administratively-scoped', 2 ** 24],
  ])('%s to %s is %s with %i groups (RFC 5771 §3, IANA multicast registry)', (first, last, kind, count) => {
    const block = space.classifyGroup4(group4(first));
    expect(block).toBe(space.classifyGroup4(group4(last)));
    expect(block.kind).toBe(kind);
    expect(formatRange(block.range)).toBe(`${first}-${last}`);
    expect(group4(last) - group4(first) + 1).toBe(count);
    expect(block.citation).toMatch(/^RFC \d+ §\d/);
  });

  it('leaves no gap and no overlap', () => {
    let next = 0xe0000000;
    for (const { range } of space.GROUP_BLOCKS_4) {
      expect(range.first).toBe(next);
      next = Number(range.last) + 1;
    }
    expect(next).toBe(0xf0000000);
  });

  it.each(['223.255.255.255', '240.0.0.0', '10.1.1.1'])('%s is no group, and asking is a fault', (text) => {
    expect(() => space.classifyGroup4(group4(text))).toThrow(RangeError);
  });
});

describe('scopes of 239.0.0.0/8 (RFC 2365 §6)', () => {
  it.each([
    ['239.0.0.0', 'organization-local-expansion', '§6.2.1'],
    ['239.191.255.255', 'organization-local-expansion', '§6.2.1'],
    ['239.192.0.0', 'organization-local', '§6.2'],
    ['239.195.255.255', 'organization-local', '§6.2'],
    ['239.196.0.0', 'unnamed', '§6'],
    ['239.252.255.255', 'unnamed', '§6'],
    ['239.253.0.0', 'local-expansion', '§6.1.1'],
    ['239.254.255.255', 'local-expansion', '§6.1.1'],
    ['239.255.0.0', 'local', '§6.1'],
    ['239.255.255.255', 'local', '§6.1'],
  ])('%s is %s by %s', (text, kind, section) => {
    expect(space.scopeOf4(group4(text))).toMatchObject({ kind, citation: `RFC 2365 ${section}` });
  });

  it('leaves no gap and no overlap', () => {
    let next = group4('239.0.0.0');
    for (const { range } of space.GROUP_SCOPES_4) {
      expect(range.first).toBe(next);
      next = Number(range.last) + 1;
    }
    expect(next).toBe(0xf0000000);
  });

  it('has none outside', () => {
    expect(space.scopeOf4(group4('238.255.255.255'))).toBeUndefined();
    expect(space.scopeOf4(group4('240.0.0.0'))).toBeUndefined();
  });

  it.each([
    ['239.255.255.255', '239.255.0.0/16', 0],
    ['239.255.255.254', '239.255.0.0/16', 1],
    ['239.255.255.0', '239.255.0.0/16', 255],
    ['239.255.254.255', '239.255.0.0/16', undefined],
    ['239.196.0.0', '239.192.0.0/14', undefined],
    ['239.20.3.255', '239.20.0.0/22', 0],
    ['239.20.3.15', '239.20.3.8/29', 0],
    ['239.20.3.7', '239.20.3.8/29', undefined],
  ])('%s lies %s below the top: %s (RFC 2365 §9)', (text, scope, offset) => {
    expect(space.scopeRelativeOffset(group4(text), prefix(scope))).toBe(offset);
  });
});

describe('assigned groups (IANA IPv4 Multicast Address Space Registry)', () => {
  it.each([
    ['224.0.0.22', 'IGMP', 'individual'],
    ['224.0.0.5', 'OSPF', 'individual'],
    ['224.0.0.18', 'VRRP', 'individual'],
    ['224.0.0.107', 'PTP', 'individual'],
    ['224.0.0.251', 'mDNS', 'individual'],
    ['224.0.0.252', 'LLMNR', 'individual'],
    ['224.0.1.1', 'NTP', 'individual'],
    ['224.0.1.129', 'PTP', 'individual'],
    ['224.0.1.132', 'PTP', 'individual'],
    ['224.0.23.12', 'KNX', 'individual'],
    ['224.0.23.177', 'AES discovery', 'individual'],
    ['224.2.127.254', 'SAP', 'individual'],
    ['239.255.255.255', 'SAP', 'scope-relative'],
    ['239.195.255.255', 'SAP', 'scope-relative'],
    ['239.255.255.250', 'SSDP', 'scope-relative'],
    ['239.255.255.254', 'MADCAP', 'scope-relative'],
    ['239.255.255.1', 'experiments', 'scope-relative'],
    ['239.255.255.100', 'reserved, scope-relative', 'scope-relative'],
    ['239.195.255.0', 'reserved, scope-relative', 'scope-relative'],
  ])('%s belongs to %s (%s)', (text, protocol, kind) => {
    expect(space.assignedGroup4(group4(text))).toMatchObject({ group: group4(text), protocol, kind });
  });

  it.each(['224.0.1.128', '224.0.1.133', '239.255.254.255', '239.196.0.0', '239.1.1.1', '232.1.1.1'])(
    '%s belongs to nobody this table knows',
    (text) => {
      expect(space.assignedGroup4(group4(text))).toBeUndefined();
    },
  );
});

describe('GLOP (RFC 3180)', () => {
  it('maps AS 5662 to 233.22.30.0/24, the worked example of §3.1', () => {
    const held = space.glopPrefix(5662);
    expect(held && formatPrefix(held)).toBe('233.22.30.0/24');
    expect(space.glopAutonomousSystem(group4('233.22.30.77'))).toBe(5662);
  });

  const withoutGroups = [0, -1, 1.5, 64512, 65535, 65536, 4200000000];

  it.each(withoutGroups)('gives AS %d no groups (§3, §5; RFC 5771 §9.2; RFC 7607)', (number) => {
    expect(space.glopPrefix(number)).toBeUndefined();
  });

  it('goes back and forth for every AS number that has groups', () => {
    for (let number = 1; number <= 64511; number++) {
      const network = space.glopPrefix(number)?.network;
      expect(typeof network === 'number' && space.glopAutonomousSystem(network)).toBe(number);
    }
  });

  it.each(['232.255.255.255', '233.252.0.0', '234.0.0.0'])('%s is not GLOP', (text) => {
    expect(space.glopAutonomousSystem(group4(text))).toBeUndefined();
  });
});

describe('unicast-prefix-based groups (RFC 6034)', () => {
  it('shifts 234.192.0.2 to 192.0.2.0, the first example of §4', () => {
    const embedded = space.embeddedUnicastPrefix(group4('234.192.0.2'));
    expect(embedded && formatPrefix(embedded)).toBe('192.0.2.0/24');
    expect(space.ownsGroupByPrefix(prefix('192.0.2.0/24'), group4('234.192.0.2'))).toBe(true);
    expect(space.ownsGroupByPrefix(prefix('192.0.2.0/24'), group4('234.192.0.3'))).toBe(false);
  });

  it('gives the holder of a /16 the 256 groups 234.x.y.0/24, the second example of §4', () => {
    const held = prefix('198.60.0.0/16');
    expect(space.ownsGroupByPrefix(held, group4('234.198.60.0'))).toBe(true);
    expect(space.ownsGroupByPrefix(held, group4('234.198.60.255'))).toBe(true);
    expect(space.ownsGroupByPrefix(held, group4('234.198.61.0'))).toBe(false);
  });

  it('gives a prefix longer than /24 nothing (§3)', () => {
    expect(space.ownsGroupByPrefix(prefix('198.60.7.0/25'), group4('234.198.60.7'))).toBe(false);
  });

  it('knows no prefix outside 234/8', () => {
    expect(space.embeddedUnicastPrefix(group4('233.192.0.2'))).toBeUndefined();
    expect(space.embeddedUnicastPrefix(group4('235.192.0.2'))).toBeUndefined();
    expect(space.embeddedPrefixFault(group4('239.10.0.0'))).toBeUndefined();
  });

  it.each([
    ['234.10.1.2', 'private-use'],
    ['234.172.16.0', 'private-use'],
    ['234.172.31.255', 'private-use'],
    ['234.192.168.9', 'private-use'],
    ['234.127.0.1', 'loopback'],
    ['234.169.254.1', 'link-local'],
    ['234.239.1.1', 'multicast'],
    ['234.224.0.0', 'multicast'],
    ['234.0.0.1', 'not-global'],
    ['234.100.64.0', 'not-global'],
    ['234.240.0.1', 'not-global'],
    ['234.172.32.0', undefined],
    ['234.198.60.7', undefined],
    ['234.203.0.113', undefined],
  ])('%s: %s (the prefix must be global unicast, §3)', (text, fault) => {
    expect(space.embeddedPrefixFault(group4(text))).toBe(fault);
    if (fault !== undefined) expect(space.ownsGroupByPrefix(prefix('0.0.0.0/0'), group4(text))).toBe(false);
  });
});

describe('documentation groups (RFC 6676)', () => {
  it.each([
    ['233.252.0.0', '§2'],
    ['233.252.0.255', '§2'],
    ['239.255.255.245', '§2.1'],
    ['239.195.255.245', '§2.1'],
    ['233.251.240.0', '§2.2'],
    ['233.251.255.255', '§2.2'],
    ['234.192.0.2', '§2.3'],
    ['234.198.51.100', '§2.3'],
    ['234.203.0.113', '§2.3'],
    ['ff02::db8:0:0', '§3'],
    ['ff0e::db8:ffff:ffff', '§3'],
    ['ff3e:20:2001:db8::1', '§3.1'],
    ['ff35:40:2001:db8:dead:beef::1', '§3.1'],
    ['ff7e:120:2001:db8::1', '§3.2'],
    ['ff75:740:2001:db8:beef:feed::1', '§3.2'],
  ])('%s is one (%s)', (text) => {
    expect(space.isDocumentationGroup(parseAddress(text) ?? 0)).toBe(true);
  });

  it.each([
    '233.252.1.0',
    '233.239.255.255',
    '239.255.255.244',
    '239.194.255.245',
    '234.192.0.3',
    'ff0e::db9:0:0',
    'ff0e::1:db8:0:0',
    'ff1e::db8:0:0',
    'ff3e:20:2001:db9::1',
    'ff3e::8000:1',
    '192.0.2.1',
    '::db8:0:0',
    'fe0e::db8:0:0',
    'fd3e:20:2001:db8::1',
  ])('%s is none', (text) => {
    expect(space.isDocumentationGroup(parseAddress(text) ?? 0xe0000000)).toBe(false);
  });

  it('knows the AS numbers of RFC 5398', () => {
    const numbers = [64495, 64496, 64511, 64512, 65535, 65536, 65551, 65552];
    expect(numbers.map(space.isDocumentationAutonomousSystem)).toEqual([
      false,
      true,
      true,
      false,
      false,
      true,
      true,
      false,
    ]);
  });
});

describe('Ethernet', () => {
  it('maps the pair of RFC 4541 §4 to one address (RFC 1112 §6.4)', () => {
    expect(formatMac(space.ethernetAddress(group4('224.1.2.3')))).toBe('01:00:5e:01:02:03');
    expect(formatMac(space.ethernetAddress(group4('239.129.2.3')))).toBe('01:00:5e:01:02:03');
  });

  it('maps IPv6 groups behind 33:33 (RFC 2464 §7)', () => {
    expect(formatMac(space.ethernetAddress(group6('ff02::1:ff25:8ec9')))).toBe('33:33:ff:25:8e:c9');
    expect(formatMac(space.ethernetAddress(group6('ff3e::ffff:ffff')))).toBe('33:33:ff:ff:ff:ff');
  });

  it('names the 32 groups of one address, and no other group shares it (RFC 1112 §6.4)', () => {
    const group = group4('239.20.1.11');
    const aliases = space.ethernetAliases4(group);
    expect(new Set(aliases).size).toBe(32);
    expect(aliases).toContain(group);
    expect(aliases.map(formatAddress)).toContain('224.148.1.11');
    expect(new Set(aliases.map(space.ethernetAddress)).size).toBe(1);
    expect(aliases).toEqual([...aliases].sort((a, b) => a - b));
    expect(space.ethernetAddress(group + 1)).not.toBe(space.ethernetAddress(group));
  });

  it.each([
    ['224.0.0.251', true],
    ['239.0.0.1', true],
    ['239.128.0.255', true],
    ['232.128.0.7', true],
    ['239.0.1.0', false],
    ['239.1.0.0', false],
    ['239.64.0.1', false],
    ['ff02::1', true],
    ['ff3e::8000:1', false],
    ['ff05::1', true],
  ])('%s shares a flooded multicast MAC: %s (RFC 4541 §2.1.2, §3)', (text, expected) => {
    expect(space.floodedEthernetAddress(parseAddress(text) ?? 0)).toBe(expected);
  });

  it.each([
    ['239.0.1.129', 'PTP-primary'],
    ['239.128.1.129', 'PTP-primary'],
    ['232.128.1.132', 'PTP-alternate3'],
    ['239.0.1.1', 'NTP Network Time Protocol'],
    ['239.128.0.107', 'PTP-pdelay'],
    ['224.0.1.129', undefined],
    ['239.0.1.128', undefined],
    ['239.1.1.129', undefined],
    ['239.64.1.129', undefined],
  ])('%s takes the multicast MAC of %s (from RFC 1112 §6.4)', (text, name) => {
    expect(space.aliasedClockGroup(group4(text))?.name).toBe(name);
  });
});

describe('source-specific groups', () => {
  it.each([
    ['232.0.0.0', true],
    ['232.255.255.255', true],
    ['231.255.255.255', false],
    ['233.0.0.0', false],
    ['239.232.1.1', false],
    ['ff30::', true],
    ['ff3e::8000:1', true],
    ['ff3e:0:1::1', true],
    ['ff3e:20:2001:db8::1', false],
    ['ff3e:1::1', false],
    ['ff2e::8000:1', false],
    ['ff7e::8000:1', false],
    ['ffbe::8000:1', true],
    ['fffe::1', false],
    ['fd3e::8000:1', false],
  ])('%s: %s (RFC 4607 §1, RFC 7371 §4.1.2)', (text, expected) => {
    expect(space.isSourceSpecific(parseAddress(text) ?? 0)).toBe(expected);
  });

  it('takes the ranges of a network instead, when it has its own (RFC 4604 §2)', () => {
    const ranges = [prefix('239.232.0.0/16')];
    expect(space.isSourceSpecific(group4('239.232.1.1'), ranges)).toBe(true);
    expect(space.isSourceSpecific(group4('232.1.1.1'), ranges)).toBe(false);
    expect(space.isSourceSpecific(group4('232.1.1.1'), [])).toBe(false);
  });
});

describe('IPv6 groups', () => {
  it.each([
    ['ff02::1', ''],
    ['ff1e::1', 'transient'],
    ['ff3e::1', 'prefix transient'],
    ['ff7e::1', 'rendezvous prefix transient'],
    ['ff8e::1', 'reserved'],
    ['ff4e::1', 'rendezvous'],
    ['ff2e::1', 'prefix'],
  ])('%s has the flags %j (RFC 4291 §2.7, RFC 3306 §4, RFC 3956 §3)', (text, names) => {
    const flags = Object.entries(space.multicastFlags6(group6(text)));
    const set = flags.flatMap(([name, on]) => (on === true ? [name] : []));
    expect(set.join(' ')).toBe(names);
  });

  // The table of RFC 7346 §2.
  it.each([
    [0x0, 'Reserved', false],
    [0x1, 'Interface-Local scope', false],
    [0x2, 'Link-Local scope', false],
    [0x3, 'Realm-Local scope', true],
    [0x4, 'Admin-Local scope', true],
    [0x5, 'Site-Local scope', true],
    [0x6, 'Unassigned', true],
    [0x7, 'Unassigned', true],
    [0x8, 'Organization-Local scope', true],
    [0x9, 'Unassigned', true],
    [0xa, 'Unassigned', true],
    [0xb, 'Unassigned', true],
    [0xc, 'Unassigned', true],
    [0xd, 'Unassigned', true],
    [0xe, 'Global scope', true],
    [0xf, 'Reserved', false],
  ])('scope %i is %s, routable %s (RFC 7346 §2)', (value, name, routable) => {
    const scope = space.multicastScope6(group6('ff10::8000:1') | (BigInt(value) << 112n));
    expect(scope).toMatchObject({ value, name, routable });
  });

  it.each([
    ['ff3e:30:3ffe:ffff:1::9', '3ffe:ffff:1::/48', 'RFC 3306 §7'],
    ['ff3e:40:2001:db8:dead:beef::1', '2001:db8:dead:beef::/64', 'RFC 6676 §3.1'],
    ['ff7e:120:2001:db8:dead::1', '2001:db8::/32', 'RFC 3956 §5.3'],
  ])('%s is derived from %s (%s)', (text, expected) => {
    const found = space.embeddedNetworkPrefix6(group6(text));
    expect(found && formatPrefix(found)).toBe(expected);
  });

  const underived = ['ff3e::8000:1', 'ff3e:41:2001:db8::1', 'ff1e:20:2001:db8::1'];

  it.each(underived)('%s is derived from none (RFC 3306 §4)', (text) => {
    expect(space.embeddedNetworkPrefix6(group6(text))).toBeUndefined();
    expect(space.embeddedRendezvousPoint6(group6(text))).toBeUndefined();
  });

  it.each([
    ['ff7e:740:2001:db8:beef:feed::1', '2001:db8:beef:feed::7', '5.1'],
    ['ff7e:f20:2001:db8::1', '2001:db8::f', '5.2'],
    ['ff7e:120:2001:db8:dead::1', '2001:db8::1', '5.3'],
    ['ff7e:130:2001:db8:beef::1', '2001:db8:beef::1', '5.4'],
  ])('%s carries the rendezvous point %s (RFC 3956 §%s)', (text, expected) => {
    expect(formatAddress(space.embeddedRendezvousPoint6(group6(text)) ?? 0n)).toBe(expected);
    expect(space.groupProblems6(group6(text))).toEqual([]);
  });

  it.each([
    ['ff02::1', 'all nodes'],
    ['ff02::16', 'MLD'],
    ['ff02::fb', 'mDNS'],
    ['ff05::fb', 'mDNS'],
    ['ff02::6b', 'PTP'],
    ['ff0e::181', 'PTP'],
    ['ff05::184', 'PTP'],
    ['ff0e::101', 'NTP'],
    ['ff0e::2:7ffe', 'SAP'],
    ['ff0e::2:8000', 'SDP/SAP'],
    ['ff02::1:3', 'LLMNR'],
    ['ff02::1:ff25:8ec9', 'neighbour discovery'],
    ['ff0e::', 'reserved'],
    ['ff0e::db8:0:1', 'documentation'],
  ])('%s belongs to %s (IANA IPv6 Multicast Address Space Registry)', (text, protocol) => {
    expect(space.assignedGroup6(group6(text))?.protocol).toBe(protocol);
  });

  const unassigned = ['ff05::6b', 'ff0e::180', 'ff1e::181', 'ff05::1:ff00:1', 'ff3e::101', 'ff0e::1:1400'];

  it.each(unassigned)('%s belongs to nobody this table knows', (text) => {
    expect(space.assignedGroup6(group6(text))).toBeUndefined();
  });

  it.each([
    ['ff3e::8000:1', []],
    ['ff1e::1234', []],
    ['ff12::1234', []],
    ['ff0e::181', []],
    ['ffbe::8000:1', []],
    ['ff3e:30:3ffe:ffff:1::9', []],
    ['ff10::1', ['reserved-scope']],
    ['ff1f::1', ['reserved-scope']],
    ['ff11::1', ['interface-local-scope']],
    ['ff9e::1', ['reserved-flag']],
    ['ff0e::4321', ['not-assigned']],
    ['ff00::4321', ['reserved-scope', 'not-assigned']],
    ['ff2e::1', ['prefix-without-transient']],
    ['ff5e::1', ['rendezvous-without-prefix']],
    ['ff6e::1', ['rendezvous-without-prefix']],
    ['ff3e:140:2001:db8::1', ['reserved-bits']],
    ['ff3e:1040:2001:db8::1', ['reserved-bits']],
    ['ff3e:41:2001:db8::1', ['prefix-length']],
    ['ff3e:20:2001:db8:1::1', ['prefix-field']],
    ['ff3e:0:2001:db8::8000:1', ['prefix-field']],
    ['ff3e::', ['source-specific-invalid']],
    ['ff3e::3fff:ffff', ['source-specific-invalid']],
    ['ff3e::4000:0', ['source-specific-reserved']],
    ['ff3e::7fff:ffff', ['source-specific-reserved']],
    ['ff3e::8000:0', []],
    ['ff7e:100:2001:db8::1', ['prefix-length']],
    ['ff7e:141:2001:db8::1', ['prefix-length']],
    ['ff7e:40:2001:db8::1', ['rendezvous-interface']],
    ['ff7e:140:fe80::1', ['rendezvous-address']],
    ['ff7e:1140:2001:db8::1', ['reserved-bits']],
  ])('%s: %j (RFC 4291 §2.7, RFC 3306 §4, RFC 3956 §3-4, RFC 4607 §1 and §4.3)', (text, kinds) => {
    const problems = space.groupProblems6(group6(text));
    expect(problems.map(({ kind }) => kind)).toEqual(kinds);
    for (const { title, citation } of problems) {
      expect(title).not.toBe('');
      expect(citation).toMatch(/^RFC \d+ §\d/);
    }
  });
});

it('classifies a group in less time than writing and reading it takes', () => {
  const groups = Array.from({ length: 20_000 }, (_, index) => 0xe0000000 + index * 13_420);
  const kinds = new Set<string>();
  const classify = (): void => {
    for (const group of groups) {
      kinds.add(space.classifyGroup4(group).kind);
      space.assignedGroup4(group);
    }
  };
  const writeAndRead = (): void => {
    for (const group of groups) expect(parseAddress(formatAddress(group)) === group).toBe(true);
  };
  expect(ratio(classify, writeAndRead, 1)).toBeLessThan(1);
  expect(kinds.size).toBeGreaterThan(8);
});
