/**
 * Addresses against three readers that others wrote: npm `ipaddr.js`, npm `ip-address`, and Python's `ipaddress`.
 * Inputs are random but repeatable; malformed ones are mutations of well-formed ones, where the mistakes are.
 */
import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { Address4, Address6 } from 'ip-address';
import ipaddr from 'ipaddr.js';
import { skipped, withoutProgram } from '../tools/outside.js';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  formatAddress,
  inPrefix,
  isMulticast,
  overlaps,
  parseAddress,
  parseAddress4,
  parseAddress6,
  parsePrefix,
  rangeOf,
  type Prefix,
} from '../../src/values/address.js';
import { isLinkLocal, isLoopback, isUnspecified } from '../../src/model/hosts/special-purpose.js';

const SEED = 20260711;

const dotted = fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255), fc.nat(255)).map((octets) => octets.join('.'));
const hextet = fc.oneof(
  fc.constant('0'),
  fc.nat(0xffff).map((value) => value.toString(16)),
);
const eight = fc.array(hextet, { minLength: 8, maxLength: 8 });
const full6 = eight.map((parts) => parts.join(':'));
const shortened6 = fc.tuple(eight, fc.nat(7), fc.integer({ min: 1, max: 8 })).map(([parts, at, count]) => {
  const end = Math.min(8, at + count);
  return `${parts.slice(0, at).join(':')}::${parts.slice(end).join(':')}`;
});
const mixed6 = fc
  .tuple(fc.array(hextet, { minLength: 6, maxLength: 6 }), dotted)
  .map(([parts, tail]) => `${parts.join(':')}:${tail}`);
const mapped6 = dotted.map((tail) => `::ffff:${tail}`);
const wellFormed = fc.oneof(dotted, full6, shortened6, mixed6, mapped6);
const slips = fc.constantFrom('', '0', '9', 'f', 'g', '.', ':', '::', ' ', '-', '/', '\n');
const mutated = fc
  .tuple(wellFormed, fc.nat(45), slips, fc.nat(2))
  .map(([text, at, insert, remove]) => text.slice(0, at) + insert + text.slice(at + remove));
const bigOctets = fc.array(fc.nat(400), { minLength: 3, maxLength: 5 }).map((octets) => octets.join('.'));
const zeroed = fc.tuple(dotted, fc.nat(3)).map(([text, at]) => {
  const octets = text.split('.');
  return octets.map((octet, index) => (index === at ? `0${octet}` : octet)).join('.');
});
const noise = fc.string({ maxLength: 20 });

/** Random addresses hardly ever hit a small class, so its edges are added. */
const edges = [
  '0.0.0.0',
  '0.0.0.1',
  '126.255.255.255',
  '127.0.0.0',
  '127.255.255.255',
  '128.0.0.0',
  '169.253.255.255',
  '169.254.0.0',
  '169.254.255.255',
  '169.255.0.0',
  '223.255.255.255',
  '224.0.0.0',
  '239.255.255.255',
  '240.0.0.0',
  '255.255.255.255',
  '::',
  '::1',
  '::2',
  'fe7f:ffff::',
  'fe80::',
  'febf:ffff::1',
  'fec0::',
  'feff::',
  'ff00::',
  'ff02::1',
  'ffff::',
];
const random = fc.sample(fc.oneof({ arbitrary: fc.oneof(wellFormed, mutated), weight: 6 }, bigOctets, zeroed, noise), {
  numRuns: 9000,
  seed: SEED,
});
const texts = [...edges, ...random];
const prefixTexts = fc.sample(
  fc
    .oneof(fc.tuple(dotted, fc.nat(34)), fc.tuple(shortened6, fc.nat(130)))
    .map(([text, length]) => `${text}/${length}`),
  { numRuns: 4000, seed: SEED },
);
type PrefixPair = [first: string, firstLength: number, second: string, secondLength: number];
/** Half of the pairs share leading bits, or overlap would hardly ever occur. */
const pairs = fc.sample(
  fc.oneof(
    fc.tuple(dotted, fc.nat(32), dotted, fc.nat(32)),
    fc
      .tuple(fc.nat(255), fc.nat(255), fc.nat(32), fc.nat(32))
      .map(([a, b, first, second]): PrefixPair => [`10.${a >> 6}.${a}.${b}`, first, `10.${b >> 6}.${a}.${a}`, second]),
    fc.tuple(shortened6, fc.nat(128), shortened6, fc.nat(128)),
    fc
      .tuple(hextet, hextet, fc.nat(128), fc.nat(128))
      .map(([a, b, first, second]): PrefixPair => [`2001:db8:${a}::${b}`, first, `2001:db8:${a}::${a}`, second]),
  ),
  { numRuns: 4000, seed: SEED },
);

describe('against npm ipaddr.js', () => {
  it('reads and writes every well-formed address alike', () => {
    let compared = 0;
    for (const text of texts) {
      const ours = parseAddress(text);
      // The library takes the IPv4-compatible ::1.2.3.4 (RFC 4291 §2.5.5.1) for the IPv4-mapped ::ffff:1.2.3.4; Python
      // reads it as ours does.
      if (ours === undefined || /^::\d+\./.test(text)) continue;
      const theirs = ipaddr.parse(text);
      expect(theirs.toByteArray(), text).toEqual(bytesOf(ours));
      // RFC 5952 §4.2.2 forbids shortening a single zero group; toRFC5952String is the library's form for that.
      const written = theirs instanceof ipaddr.IPv6 ? theirs.toRFC5952String() : theirs.toString();
      if (!isMapped(ours)) expect(formatAddress(ours), text).toBe(written);
      compared++;
    }
    expect(compared).toBeGreaterThan(2000);
  });

  it('refuses what the library refuses; the library alone also takes octal, hexadecimal, short and zoned forms', () => {
    let refused = 0;
    for (const text of texts) {
      // Only four decimal octets without leading zero are one reading to every system, so only those are compared.
      const plain4 = /^(0|[1-9]\d*)(\.(0|[1-9]\d*)){3}$/.test(text);
      // The library takes a zone and, in an IPv4 tail, leading zeros; ours takes neither.
      const plain6 = text.includes(':') && !/[%]/.test(text) && !/(^|[:.])0\d*\d\.|\.0\d/.test(text);
      if (!plain4 && !plain6) continue;
      expect(parseAddress(text) !== undefined, JSON.stringify(text)).toBe(ipaddr.isValid(text));
      if (parseAddress(text) === undefined) refused++;
    }
    expect(refused).toBeGreaterThan(500);
  });

  it('refuses octal and shorthand IPv4, which the library accepts', () => {
    for (const text of ['010.1.1.1', '10.1', '0x0a.1.1.1', '167837953']) {
      expect(ipaddr.IPv4.isValid(text), text).toBe(true);
      expect(parseAddress4(text), text).toBeUndefined();
    }
  });

  it('finds addresses in prefixes alike', () => {
    for (const [first, firstLength, second] of pairs) {
      const prefix = required(parsePrefix(`${first}/${firstLength}`));
      const theirs = ipaddr.parse(second).match(ipaddr.parse(first), firstLength);
      expect(inPrefix(required(parseAddress(second)), prefix), `${second} in ${first}/${firstLength}`).toBe(theirs);
    }
  });
});

describe('against npm ip-address', () => {
  // IPv6 text is read with this very library, so only IPv4 is an independent check.
  it('reads every IPv4 text alike', () => {
    let accepted = 0;
    for (const text of texts) {
      if (text.includes('/') || text.includes(':')) continue; // the library also reads a prefix here
      const theirs = Address4.isValid(text) ? Number(new Address4(text).bigInt()) : undefined;
      expect(parseAddress4(text), JSON.stringify(text)).toBe(theirs);
      if (theirs !== undefined) accepted++;
    }
    expect(accepted).toBeGreaterThan(500);
  });

  it('gives every prefix the same first and last address', () => {
    let compared = 0;
    for (const text of prefixTexts) {
      const prefix = parsePrefix(text);
      const Library = text.includes(':') ? Address6 : Address4;
      expect(prefix !== undefined, text).toBe(Library.isValid(text));
      if (prefix === undefined) continue;
      const theirs = new Library(text);
      const { first, last } = rangeOf(prefix);
      const expected = [theirs.startAddress().bigInt(), theirs.endAddress().bigInt()];
      expect([BigInt(first), BigInt(last)], text).toEqual(expected);
      compared++;
    }
    expect(compared).toBeGreaterThan(3000);
  });
});

interface PythonAnswers {
  readonly texts: readonly (null | PythonAddress)[];
  readonly prefixes: readonly (null | readonly [string, string, number])[];
  readonly pairs: readonly (readonly [boolean, boolean])[];
}
type PythonAddress = readonly [
  value: string,
  version: number,
  text: string,
  multicast: boolean,
  linkLocal: boolean,
  loopback: boolean,
  unspecified: boolean,
];

const PYTHON = `
import ipaddress, json, sys
asked = json.load(sys.stdin)
def address(text):
    try: a = ipaddress.ip_address(text)
    except ValueError: return None
    return [str(int(a)), a.version, str(a), a.is_multicast, a.is_link_local, a.is_loopback, a.is_unspecified]
def prefix(text):
    try: n = ipaddress.ip_network(text, strict=False)
    except ValueError: return None
    return [str(int(n.network_address)), str(int(n.broadcast_address)), n.prefixlen]
def pair(first, first_length, second, second_length):
    a = ipaddress.ip_network(f'{first}/{first_length}', strict=False)
    b = ipaddress.ip_network(f'{second}/{second_length}', strict=False)
    return [ipaddress.ip_address(second) in a, a.overlaps(b)]
json.dump({'texts': [address(t) for t in asked['texts']], 'prefixes': [prefix(t) for t in asked['prefixes']],
           'pairs': [pair(*p) for p in asked['pairs']]}, sys.stdout)
`;

const missing = withoutProgram('python3', ['-c', 'import ipaddress']);

describe.skipIf(missing !== undefined)(`against Python ipaddress${skipped(missing)}`, () => {
  let answers: PythonAnswers = { texts: [], prefixes: [], pairs: [] };

  beforeAll(() => {
    const run = spawnSync('python3', ['-c', PYTHON], {
      input: JSON.stringify({ texts, prefixes: prefixTexts, pairs }),
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    });
    expect(run.stderr).toBe('');
    answers = JSON.parse(run.stdout) as PythonAnswers;
  });

  it('reads, refuses and writes every text alike, malformed ones included', () => {
    expect(answers.texts).toHaveLength(texts.length);
    let accepted = 0;
    for (const [index, text] of texts.entries()) {
      if (text.includes('%')) continue; // Python takes a zone; a plan's addresses have none
      const theirs = answers.texts[index] ?? undefined;
      const ours = parseAddress(text);
      expect(ours === undefined ? undefined : ours.toString(), JSON.stringify(text)).toBe(theirs?.[0]);
      if (ours === undefined || theirs === undefined) continue;
      accepted++;
      expect(typeof ours === 'number' ? 4 : 6, text).toBe(theirs[1]);
      // Python from 3.13 on writes mapped addresses with a dotted tail (RFC 5952 §5), earlier ones do not.
      if (!isMapped(ours)) expect(formatAddress(ours), text).toBe(theirs[2]);
    }
    expect(accepted).toBeGreaterThan(2000);
    expect(texts.length - accepted).toBeGreaterThan(2000);
  });

  it('classifies every address alike: group, link-local, loopback, unspecified', () => {
    for (const [index, text] of texts.entries()) {
      const theirs = answers.texts[index];
      const ours = parseAddress(text);
      // Mapped addresses take the class of the IPv4 address inside in later versions of Python.
      if (theirs === null || theirs === undefined || ours === undefined || isMapped(ours)) continue;
      const classes = [isMulticast(ours), isLinkLocal(ours), isLoopback(ours), isUnspecified(ours)];
      expect(classes, text).toEqual(theirs.slice(3));
    }
    for (const column of [3, 4, 5, 6]) expect(answers.texts.some((one) => one?.[column] === true)).toBe(true);
  });

  it('gives every prefix the same first and last address, and refuses the same lengths', () => {
    let refused = 0;
    for (const [index, text] of prefixTexts.entries()) {
      const theirs = answers.prefixes[index] ?? undefined;
      const ours = parsePrefix(text);
      if (ours === undefined) refused++;
      expect(ours && [String(rangeOf(ours).first), String(rangeOf(ours).last), ours.length], text).toEqual(theirs);
    }
    expect(refused).toBeGreaterThan(20);
  });

  it('finds containment and overlap alike', () => {
    let overlapping = 0;
    for (const [index, [first, firstLength, second, secondLength]] of pairs.entries()) {
      const a = required(parsePrefix(`${first}/${firstLength}`));
      const b = required(parsePrefix(`${second}/${secondLength}`));
      const ours = [inPrefix(b.address, a), overlaps(a, b)];
      expect(ours, `${first}/${firstLength} and ${second}/${secondLength}`).toEqual(answers.pairs[index]);
      expect(overlaps(b, a)).toBe(ours[1]);
      if (ours[1]) overlapping++;
    }
    expect(overlapping).toBeGreaterThan(500);
    expect(pairs.length - overlapping).toBeGreaterThan(500);
  });
});

it('reads every IPv6 address back from what it writes', () => {
  for (const text of texts) {
    const value = parseAddress6(text);
    if (value !== undefined) expect(parseAddress6(formatAddress(value)), text).toBe(value);
  }
  expect(texts.filter((text) => parseAddress6(text) !== undefined).length).toBeGreaterThan(1500);
});

function isMapped(address: number | bigint): boolean {
  return typeof address === 'bigint' && address >> 32n === 0xffffn;
}

function bytesOf(address: number | bigint): number[] {
  const digits = address.toString(16).padStart(typeof address === 'number' ? 8 : 32, '0');
  return (digits.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16));
}

function required<T = Prefix>(value: T | undefined): T {
  if (value === undefined) throw new Error('the test itself is at fault');
  return value;
}
