import { describe, expect, it } from 'vitest';
import {
  isBroadcast,
  isDocumentation,
  isGloballyReachableUnicast,
  isLinkLocal,
  isLoopback,
  isPrivateUse,
  isShared,
  isUnspecified,
  SPECIAL_PURPOSE_4,
  SPECIAL_PURPOSE_6,
  specialPurpose,
} from '../../src/model/hosts/special-purpose.js';
import { formatPrefix, parseAddress, rangeOf, type Address } from '../../src/values/address.js';

function address(text: string): Address {
  const value = parseAddress(text);
  if (value === undefined) throw new Error(`the test itself is at fault: ${text}`);
  return value;
}

describe('the most specific registry row wins (RFC 6890 §2.2)', () => {
  it.each([
    ['0.0.0.0', '"This host on this network"'],
    ['0.0.0.1', '"This network"'],
    ['192.0.0.7', 'IPv4 Service Continuity Prefix'],
    ['192.0.0.8', 'IPv4 dummy address'],
    ['192.0.0.9', 'Port Control Protocol Anycast'],
    ['192.0.0.11', 'IETF Protocol Assignments'],
    ['192.0.0.171', 'NAT64/DNS64 Discovery'],
    ['255.255.255.255', 'Limited Broadcast'],
    ['255.255.255.254', 'Reserved'],
    ['2001::1', 'TEREDO'],
    ['2001:1::3', 'DNS-SD Service Registration Protocol Anycast'],
    ['2001:1::4', 'IETF Protocol Assignments'],
    ['::1', 'Loopback Address'],
    ['100:0:0:1::', 'Dummy IPv6 Prefix'],
  ])('%s is %s', (text, name) => {
    expect(specialPurpose(address(text))?.name).toBe(name);
  });

  const ordinary = ['1.1.1.1', '239.1.1.1', '198.20.0.0', '2a00::1', 'ff3e::8000:1', '::2'];

  it.each(ordinary)('%s has no special purpose', (text) => {
    expect(specialPurpose(address(text))).toBeUndefined();
  });

  it('finds at the first address of every row that row or a narrower one', () => {
    for (const row of [...SPECIAL_PURPOSE_4, ...SPECIAL_PURPOSE_6]) {
      const found = specialPurpose(rangeOf(row.prefix).last);
      expect(found?.prefix.length, formatPrefix(row.prefix)).toBeGreaterThanOrEqual(row.prefix.length);
    }
  });
});

describe('classes, inside and just outside', () => {
  it.each([
    [
      'RFC 1918 §3',
      isPrivateUse,
      ['10.0.0.0', '10.255.255.255', '172.16.0.0', '172.31.255.255', '192.168.0.0', '192.168.255.255'],
      ['9.255.255.255', '11.0.0.0', '172.15.255.255', '172.32.0.0', '192.167.255.255', '192.169.0.0'],
    ],
    [
      'RFC 4193 §3',
      isPrivateUse,
      ['fc00::', 'fdff:ffff:ffff:ffff:ffff:ffff:ffff:ffff'],
      ['fbff::', 'fe00::', '::a00:1'],
    ],
    ['RFC 3927 §2.1', isLinkLocal, ['169.254.0.0', '169.254.255.255'], ['169.253.255.255', '169.255.0.0']],
    ['RFC 4291 §2.5.6', isLinkLocal, ['fe80::', 'febf::1'], ['fe7f::', 'fec0::']],
    ['RFC 1122 §3.2.1.3', isLoopback, ['127.0.0.0', '127.255.255.255'], ['126.255.255.255', '128.0.0.0']],
    ['RFC 4291 §2.5.3', isLoopback, ['::1'], ['::', '::2', '::7f00:1']],
    [
      'RFC 5737 §3',
      isDocumentation,
      ['192.0.2.0', '192.0.2.255', '198.51.100.9', '203.0.113.255'],
      ['192.0.1.255', '192.0.3.0', '198.51.101.0', '203.0.112.255'],
    ],
    ['RFC 3849 §2', isDocumentation, ['2001:db8::', '2001:db8:ffff::'], ['2001:db7::', '2001:db9::']],
    ['RFC 9637 §2', isDocumentation, ['3fff::', '3fff:fff::'], ['3ffe::', '3fff:1000::']],
    ['RFC 6598 §7', isShared, ['100.64.0.0', '100.127.255.255'], ['100.63.255.255', '100.128.0.0', '::6440:1']],
    ['RFC 1122 §3.2.1.3, RFC 4291 §2.5.2', isUnspecified, ['0.0.0.0', '::'], ['0.0.0.1', '::1']],
    ['RFC 919 §7', isBroadcast, ['255.255.255.255'], ['255.255.255.254', '10.255.255.255', '::ffff:ffff']],
  ])('%s: %o', (_source, belongs, inside, outside) => {
    for (const text of inside) expect(belongs(address(text)), text).toBe(true);
    for (const text of outside) expect(belongs(address(text)), text).toBe(false);
  });
});

describe('globally reachable unicast (RFC 6890 §2.2.1)', () => {
  it.each(['8.0.0.1', '192.0.0.9', '192.31.196.1', '223.255.255.255', '2a00::1', '64:ff9b::1', '2001:3::1'])(
    '%s is',
    (text) => {
      expect(isGloballyReachableUnicast(address(text))).toBe(true);
    },
  );

  it.each([
    '10.1.1.1',
    '100.64.0.1',
    '127.0.0.1',
    '169.254.1.1',
    '192.0.2.1',
    '192.88.99.1',
    '198.18.0.1',
    '224.0.1.1',
    '239.1.1.1',
    '240.0.0.1',
    '255.255.255.255',
    '0.0.0.0',
    '::',
    '::1',
    'fe80::1',
    'fd00::1',
    'ff3e::1',
    '2001:db8::1',
    '4000::1',
    '2001::1',
    '2002::1',
  ])('%s is not', (text) => {
    expect(isGloballyReachableUnicast(address(text))).toBe(false);
  });
});
