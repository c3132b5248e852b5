/**
 * What a refusal says: which block, what it has to hold, what it holds, and what to write instead. The numbers are computed
 * by hand from the request: 4 cameras and a quarter more are 5 places, from unit 11 on to 15; with 20 addresses for DHCP and
 * the network and broadcast address (RFC 1878 Table 1-2) control needs 37 and so a /26, red and blue need 17 and so a /27.
 */
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { allocate, type Outcome, type ToldRefusal } from '../../src/allocate/allocate.js';
import { withChange } from '../../src/allocate/refusal.js';
import { rawRequest, readRequest, type RawRequest } from '../../src/allocate/request.js';

const REQUEST = `rig: Sanderling
networks:
  - {name: red, role: media, leg: 1}
  - {name: blue, role: media, leg: 2}
  - {name: control, role: control, dhcp: 20}
areas: [{name: jetty}]
kinds:
  - name: camera
    interfaces:
      - {name: red, network: red, rate: 25G}
      - {name: blue, network: blue, rate: 25G}
      - {name: control, network: control, rate: 1G}
    senders: [{name: picture, essence: video}, {name: sound, essence: audio}]
devices:
  - {name: cam, kind: camera, area: jetty, count: 4}
`;

function requestOf(change: (text: string) => string): RawRequest {
  const text = change(REQUEST);
  expect(load(text)).not.toEqual(load(REQUEST));
  const { document, problems } = readRequest({ name: 'request.yaml', text });
  expect(problems).toEqual([]);
  if (document === undefined) throw new Error('the request of this test is not one');
  return rawRequest(document);
}

const network = (name: 'red' | 'blue' | 'control', more: string) => (text: string) =>
  text.replace(`{name: ${name}, role`, `{name: ${name}, ${more}, role`);
const behind = (more: string) => (text: string) => `${text}${more}\n`;

function refusalsOf(outcome: Outcome): readonly ToldRefusal[] {
  if (!('refusals' in outcome)) throw new Error('the request is met');
  return outcome.refusals;
}

interface Case {
  readonly name: string;
  readonly request: RawRequest;
  readonly says: string;
  readonly needed: number;
  readonly has: number;
  readonly change: string;
}

const both =
  (...changes: readonly ((text: string) => string)[]) =>
  (text: string): string =>
    changes.reduce((now, change) => change(now), text);

const CASES: readonly Case[] = [
  {
    name: 'a block too small for the subnets of its network',
    request: requestOf(network('control', 'addresses: 10.9.0.0/28')),
    says: 'network control needs 64 addresses (control a /26), and its block 10.9.0.0/28 has 16',
    needed: 64,
    has: 16,
    change: 'write `addresses: 10.9.0.0/26`',
  },
  {
    name: 'blocks of both legs',
    request: requestOf(both(network('red', 'addresses: 10.9.0.0/28'), network('blue', 'addresses: 10.10.0.0/28'))),
    says: 'network red needs 32 addresses (red a /27), and its block 10.9.0.0/28 has 16',
    needed: 32,
    has: 16,
    change: 'write `addresses: 10.9.0.0/27` for red and `addresses: 10.10.0.0/27` for blue',
  },
  {
    // Of 128 addresses .0 to .31 and .64 to .95 are kept clear of: two pieces of 32 are left.
    name: 'a block that is large enough but not clear in one piece',
    request: requestOf(
      both(network('control', 'addresses: 10.9.0.0/25'), behind('keepClear: {addresses: [10.9.0.0/27, 10.9.0.64/27]}')),
    ),
    says: 'VLAN control needs a /26 (64 addresses) in one piece, and the largest clear piece of 10.9.0.0/25 is a /27 (32 addresses)',
    needed: 64,
    has: 32,
    change: 'write `addresses: 10.9.0.0/24`',
  },
  {
    name: 'nothing to pick a block from',
    request: requestOf(behind('keepClear: {addresses: [10.0.0.0/8, 172.16.0.0/12, 192.168.0.0/16]}')),
    says: 'network red needs a /27 (32 addresses) in one piece, and nothing is clear in 10.0.0.0/8, 172.16.0.0/12 and 192.168.0.0/16',
    needed: 32,
    has: 0,
    change: 'if `10.0.0.0/8` may be used after all, take it out of `keepClear`',
  },
  {
    // Units to 15 take 4 bits, stream numbers to 2 take 2: 64 groups.
    name: 'a block of groups too small',
    request: requestOf(network('red', 'groups: 239.192.10.0/28')),
    says: 'units up to 15 with up to 2 streams each need 64 groups on each network, and 239.192.10.0/28 of network red has 16',
    needed: 64,
    has: 16,
    change: 'write `groups: 239.192.10.0/26`',
  },
  {
    // A pattern states how wide fields are: 3 bits number to 7.
    name: 'fields too narrow',
    request: requestOf(behind('pattern: {groups: [{field: unit, bits: 3}, {field: stream, bits: 2}]}')),
    says: 'the pattern of groups is too narrow: unit has 3 bits, so it numbers to 7, and 15 is needed',
    needed: 15,
    has: 7,
    change: 'write `groups: [{field: unit, bits: 4}, {field: stream, bits: 2}]`',
  },
  {
    name: 'ids of VLANs',
    request: requestOf(both(network('red', 'vlanIds: "100"'), network('blue', 'vlanIds: "100"'))),
    says: 'network blue needs 1 VLAN id, and of id 100 none is clear',
    needed: 1,
    has: 0,
    change: 'write `vlanIds: 100-101`',
  },
  {
    name: 'ports',
    request: requestOf(behind('switches: [{name: shore, network: red, area: jetty, ports: 3}]')),
    says: 'network red has no port left for cam-4 red: shore 3 ports',
    needed: 4,
    has: 3,
    change: 'have 1 more on shore: `ports: 4`',
  },
  {
    name: 'ports that are fast enough',
    request: requestOf(behind('switches: [{name: shore, network: red, area: jetty, ports: 4, rate: 10G}]')),
    says: 'network red has no port of at least 25G left for cam-1 red, cam-2 red, cam-3 red and 1 more: shore 4 ports of 10G',
    needed: 4,
    has: 0,
    change: 'have faster ports on shore: `rate: 25G`',
  },
  {
    // Numbers 1 to 10 lie before the first unit; nine of them are somebody's, and three are needed.
    name: 'numbers for the gateway',
    request: requestOf(
      both(
        network('control', 'addresses: 10.9.0.0/26'),
        behind(`keepClear: {addresses: [${Array.from({ length: 9 }, (_, at) => `10.9.0.${at + 1}`).join(', ')}]}`),
      ),
    ),
    says: 'VLAN control needs 3 clear numbers from 1 to 10 of 10.9.0.0/26 for its gateway and switches, and 1 is clear',
    needed: 3,
    has: 1,
    change: 'leave `addresses` out, so that a block is picked',
  },
];

describe('a refusal', () => {
  for (const { name, request, says, needed, has, change } of CASES)
    it(`names the block, what is missing and what to write: ${name}`, () => {
      const [first] = refusalsOf(allocate(request));
      expect(first?.what).toBe(says);
      expect([first?.short?.needed, first?.short?.has]).toEqual([needed, has]);
      expect(first?.change?.words).toBe(change);
      if (first?.change === undefined) throw new Error('nothing to write is said');
      expect('refusals' in allocate(withChange(request, first.change))).toBe(false);
    });

  it('names the subnets an earlier plan gave', () => {
    const request = requestOf(behind('about: before'));
    const earlier = allocate(request);
    if ('refusals' in earlier) throw new Error('the request is not met');
    // 300 cameras and 75 more, from unit 11 on, are 385 numbers and two: 512.
    const more = requestOf((text) => text.replace('count: 4', 'count: 300'));
    const [first] = refusalsOf(allocate(more, { keep: [earlier.plan] }));
    expect(first?.what).toBe(
      'red and blue have outgrown 10.16.10.0/27 and 10.17.10.0/27: a /23 (512 addresses) is needed, and an earlier plan gave 32',
    );
    expect(first?.short).toMatchObject({ needed: 512, has: 32 });
  });

  it('says of a fixed address which block it lies outside of', () => {
    const outside = requestOf(
      both(
        network('red', 'addresses: 10.9.0.0/24'),
        behind('fixed: [{device: cam-1, interface: red, address: 10.30.0.15}]'),
      ),
    );
    const [first] = refusalsOf(allocate(outside));
    expect(first?.what).toBe("10.30.0.15 can't be kept: it lies outside 10.9.0.0/24, the block of network red");
  });
});
