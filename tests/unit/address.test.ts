import { describe, expect, it } from 'vitest';
import {
  formatAddress,
  formatPrefix,
  formatRange,
  inPrefix,
  inRange,
  isMulticast,
  networkOf,
  overlaps,
  parseAddress,
  parseAddress4,
  parseAddress6,
  parsePrefix,
  parseRange,
  rangeOf,
  type Prefix,
} from '../../src/values/address.js';

describe('IPv4 text', () => {
  it.each([
    ['0.0.0.0', 0],
    ['255.255.255.255', 0xffffffff],
    ['10.1.2.3', 0x0a010203],
    ['239.20.1.11', 0xef14010b],
  ])('reads %s', (text, value) => {
    expect(parseAddress4(text)).toBe(value);
    expect(formatAddress(value)).toBe(text);
  });

  it.each([
    '',
    '1',
    '1.2.3',
    '1.2.3.4.5',
    '1.2.3.',
    '.1.2.3',
    '1..2.3',
    '256.1.1.1',
    '1.1.1.1000',
    '010.1.1.1',
    '00.1.1.1',
    '1.2.3.04',
    '-1.2.3.4',
    '+1.2.3.4',
    ' 1.2.3.4',
    '1.2.3.4 ',
    '1.2.3.4\n',
    '0x1.2.3.4',
    '1e1.2.3.4',
    '1,2.3.4',
    '١.2.3.4',
    '10.1.1.1/24',
    '3232235777',
  ])('refuses %j', (text) => {
    expect(parseAddress4(text)).toBeUndefined();
  });
});

describe('IPv6 text', () => {
  // The examples of RFC 4291 §2.2 and the canonical forms RFC 5952 §4 makes of them.
  it.each([
    ['ABCD:EF01:2345:6789:ABCD:EF01:2345:6789', 'abcd:ef01:2345:6789:abcd:ef01:2345:6789'],
    ['2001:DB8:0:0:8:800:200C:417A', '2001:db8::8:800:200c:417a'],
    ['FF01:0:0:0:0:0:0:101', 'ff01::101'],
    ['0:0:0:0:0:0:0:1', '::1'],
    ['0:0:0:0:0:0:0:0', '::'],
    ['0:0:0:0:0:0:13.1.68.3', '::d01:4403'],
    ['2001:db8:0:1:1:1:1:1', '2001:db8:0:1:1:1:1:1'],
    ['2001:0:0:1:0:0:0:1', '2001:0:0:1::1'],
    ['2001:db8:0:0:1:0:0:1', '2001:db8::1:0:0:1'],
  ])('reads %s as %s (RFC 4291 §2.2, RFC 5952 §4)', (text, canonical) => {
    const value = parseAddress6(text);
    expect(value).toBeTypeOf('bigint');
    expect(formatAddress(value ?? 0)).toBe(canonical);
    expect(parseAddress6(canonical)).toBe(value);
  });

  it.each([
    '',
    ':',
    ':::',
    '1::2::3',
    '1:2:3:4:5:6:7',
    '1:2:3:4:5:6:7:8:9',
    '12345::',
    'g::',
    'fe80::1%eth0',
    'fe80::1/64',
    '[::1]',
    '::1 ',
    ' ::1',
    '::ffff:1.2.3',
    '::ffff:1.2.3.256',
    '::ffff:010.1.1.1',
    '1::2:3:4:5:6:7:8',
    '::1\n',
    '1:2:3:4:5:6:7:',
    ':1:2:3:4:5:6:7',
    '1.2.3.4::',
    '2001:db8',
  ])('refuses %j', (text) => {
    expect(parseAddress6(text)).toBeUndefined();
  });

  it('keeps the families apart', () => {
    expect(parseAddress('::1')).toBe(1n);
    expect(parseAddress('0.0.0.1')).toBe(1);
  });
});

describe('prefixes and ranges', () => {
  it('keeps the address as written and clears the host bits of the network', () => {
    const prefix = parsePrefix('10.1.2.3/24');
    expect(prefix).toEqual({ address: 0x0a010203, network: 0x0a010200, length: 24 });
    expect(prefix && formatPrefix(prefix)).toBe('10.1.2.0/24');
  });

  it.each([
    '10.0.0.0',
    '10.0.0.0/',
    '10.0.0.0/33',
    '10.0.0.0/08',
    '10.0.0.0/-1',
    '10.0.0.0/8/8',
    '::/129',
    '10.0.0.0/ 8',
    '10.0.0.0/255.0.0.0',
    'x/8',
  ])('refuses the prefix %j', (text) => {
    expect(parsePrefix(text)).toBeUndefined();
  });

  it.each([
    ['10.1.2.3/32', '10.1.2.3-10.1.2.3'],
    ['10.1.2.3/31', '10.1.2.2-10.1.2.3'],
    ['128.0.0.0/1', '128.0.0.0-255.255.255.255'],
    ['255.255.255.255/0', '0.0.0.0-255.255.255.255'],
    ['2001:db8::1/127', '2001:db8::-2001:db8::1'],
    ['ff3e::/96', 'ff3e::-ff3e::ffff:ffff'],
    ['::/0', '::-ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff'],
  ])('%s spans %s', (text, range) => {
    const parsed = parseRange(text);
    expect(parsed && formatRange(parsed)).toBe(range);
    expect(parseRange(range)).toEqual(parsed);
  });

  it.each(['10.0.0.2-10.0.0.1', '10.0.0.1-::1', '10.0.0.1-', '-10.0.0.1', '10.0.0.1', '10.0.0.1-10.0.0.2-10.0.0.3'])(
    'refuses the range %j',
    (text) => {
      expect(parseRange(text)).toBeUndefined();
    },
  );

  it('never finds an address of one family in a prefix or range of the other', () => {
    const all4 = required(parsePrefix('0.0.0.0/0'));
    const all6 = required(parsePrefix('::/0'));
    expect(inPrefix(1n, all4)).toBe(false);
    expect(inPrefix(1, all6)).toBe(false);
    expect(inRange(1n, rangeOf(all4))).toBe(false);
    expect(inRange(1, rangeOf(all6))).toBe(false);
    expect(overlaps(all4, all6)).toBe(false);
  });

  it('treats both ends of a range as inside', () => {
    const range = required(parseRange('10.0.0.4-10.0.0.6'));
    expect([3, 4, 5, 6, 7].map((last) => inRange(0x0a000000 + last, range))).toEqual([false, true, true, true, false]);
  });

  it('finds overlap whichever prefix is the longer', () => {
    const wide = required(parsePrefix('10.0.0.0/8'));
    const inside = required(parsePrefix('10.255.0.0/16'));
    const beside = required(parsePrefix('11.0.0.0/16'));
    expect(overlaps(wide, inside)).toBe(true);
    expect(overlaps(inside, wide)).toBe(true);
    expect(overlaps(wide, beside)).toBe(false);
  });

  it('clears host bits at every length of IPv4 without going negative', () => {
    for (let length = 0; length <= 32; length++) {
      expect(networkOf(0xffffffff, length)).toBe(length === 0 ? 0 : 2 ** 32 - 2 ** (32 - length));
    }
  });
});

describe('group addresses (RFC 1112 §4, RFC 4291 §2.7)', () => {
  it.each([
    ['223.255.255.255', false],
    ['224.0.0.0', true],
    ['239.255.255.255', true],
    ['240.0.0.0', false],
    ['feff:ffff:ffff:ffff:ffff:ffff:ffff:ffff', false],
    ['ff00::', true],
    ['ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff', true],
    ['::ff00:0:0', false],
  ])('%s: %s', (text, expected) => {
    expect(isMulticast(required(parseAddress(text)))).toBe(expected);
  });
});

function required<T = Prefix>(value: T | undefined): T {
  if (value === undefined) throw new Error('the test itself is at fault');
  return value;
}
