/**
 * Which rule of the family `groups` speaks about a group, against the published tables: RFC 5771 and IANA's registry,
 * RFC 2365, RFC 3180, RFC 6034, RFC 6676, RFC 4541. The registry itself is read from `../shared/data` where that folder
 * lies beside the project; without it those tests are skipped.
 */
import { skipped, textOf, unpublished } from '../tools/outside.js';
import { describe, expect, it } from 'vitest';
import type { Facts as EthernetAlias } from '../../rules/groups/ethernet-alias/words.js';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { formatAddress } from '../../src/values/address.js';
import { loadRule, ruleFolders } from '../rules/load.js';

const RULES = await Promise.all(ruleFolders('groups').map(loadRule));
const ALL_RULES = [
  ...RULES,
  ...(await Promise.all(
    ruleFolders('sources')
      .filter(({ id }) => id === 'sources/ssm-reserved')
      .map(loadRule),
  )),
];

/** Of these, exactly one speaks about a misplaced group, and none about a usable one. */
const PLACEMENT = new Set([
  'groups/not-multicast',
  'groups/local-control',
  'groups/documentation',
  'groups/assigned',
  'groups/scope-top',
  'groups/reserved-block',
  'groups/foreign-glop',
  'groups/foreign-unicast-prefix',
  'groups/outside-practice',
  'groups/ipv6-scope',
  'groups/ipv6-flags',
  'sources/ssm-reserved',
]);

interface Extra {
  readonly conventions?: object;
  readonly practice?: object;
}

function lint(groups: readonly string[], extra: Extra = {}): readonly Finding[] {
  const streams = groups.map((group) => ({
    name: group,
    legs: [{ group, vlan: 'media', source: group.includes(':') ? 'fd20:1::31' : '10.20.1.31' }],
  }));
  const plan = JSON.stringify({ rig: 'Heron', ...extra, vlans: [{ name: 'media' }], streams });
  const result = lintInputs([{ name: 'plan.json', text: plan }], ALL_RULES, { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

/** The rules that place each group; the streams are named after their groups. */
function placements(groups: readonly string[], extra: Extra = {}): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>(groups.map((group) => [group, []]));
  for (const { rule, parties } of lint(groups, extra)) {
    if (PLACEMENT.has(rule)) for (const party of parties) found.get(party)?.push(rule);
  }
  return found;
}

describe("RFC 5771 section 3 with the registry's later changes (RFC 6034, RFC 2365 section 6.3)", () => {
  it.each([
    ['223.255.255.255', 'groups/not-multicast', 'RFC 1112 section 4'],
    ['224.0.0.0', 'groups/local-control', 'RFC 5771 section 4'],
    ['224.0.0.255', 'groups/local-control', 'RFC 5771 section 4'],
    ['224.0.1.0', 'groups/assigned', 'RFC 5771 section 5'],
    ['224.0.1.255', 'groups/assigned', 'RFC 5771 section 5'],
    ['224.0.2.0', 'groups/reserved-block', 'RFC 5771 section 6, AD-HOC I'],
    ['224.0.255.255', 'groups/reserved-block', 'RFC 5771 section 6, AD-HOC I'],
    ['224.1.0.0', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['224.1.255.255', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['224.2.0.0', 'groups/reserved-block', 'RFC 5771 section 7, SDP/SAP'],
    ['224.2.127.254', 'groups/assigned', 'SAP, the registry'],
    ['224.2.255.255', 'groups/reserved-block', 'RFC 5771 section 7, SDP/SAP'],
    ['224.3.0.0', 'groups/reserved-block', 'RFC 5771 section 6, AD-HOC II'],
    ['224.4.255.255', 'groups/reserved-block', 'RFC 5771 section 6, AD-HOC II'],
    ['224.5.0.0', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['224.251.255.255', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['224.252.0.0', 'groups/reserved-block', 'RFC 2365 section 6.3'],
    ['224.255.255.255', 'groups/reserved-block', 'RFC 2365 section 6.3'],
    ['225.0.0.0', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['231.255.255.255', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['232.0.0.0', 'sources/ssm-reserved', 'RFC 4607 section 4.3'],
    ['232.0.0.255', 'sources/ssm-reserved', 'RFC 4607 section 4.3'],
    ['232.0.1.0', undefined, 'RFC 4607 section 4.3'],
    ['232.255.255.255', undefined, 'RFC 5771 section 8'],
    ['233.0.0.0', 'groups/foreign-glop', 'RFC 3180 section 3'],
    ['233.251.239.255', 'groups/foreign-glop', 'RFC 3180 section 3: AS 64495'],
    ['233.251.240.0', 'groups/documentation', 'RFC 6676 section 2.2: AS 64496'],
    ['233.251.255.255', 'groups/documentation', 'RFC 6676 section 2.2: AS 64511'],
    ['233.252.0.0', 'groups/documentation', 'RFC 5771 section 9.2, MCAST-TEST-NET'],
    ['233.252.0.255', 'groups/documentation', 'RFC 5771 section 9.2, MCAST-TEST-NET'],
    ['233.252.1.0', 'groups/reserved-block', 'RFC 5771 section 9.2, AD-HOC III'],
    ['233.255.255.255', 'groups/reserved-block', 'RFC 5771 section 9.2, AD-HOC III'],
    ['234.0.0.0', 'groups/foreign-unicast-prefix', 'RFC 6034 section 3'],
    ['234.255.255.255', 'groups/foreign-unicast-prefix', 'RFC 6034 section 3'],
    ['235.0.0.0', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['238.255.255.255', 'groups/reserved-block', 'RFC 5771 section 13'],
    ['239.0.0.0', undefined, 'RFC 2365 section 6.2.1'],
    ['239.192.0.0', undefined, 'RFC 2365 section 6.2'],
    ['239.195.254.255', undefined, 'RFC 2365 section 6.2'],
    ['239.195.255.0', 'groups/scope-top', 'RFC 2365 section 9'],
    ['239.195.255.245', 'groups/documentation', 'RFC 6676 section 2.1'],
    ['239.195.255.255', 'groups/scope-top', 'RFC 2365 section 9: SAP'],
    ['239.196.0.0', undefined, 'RFC 2365 section 6'],
    ['239.255.254.255', undefined, 'RFC 2365 section 6.1'],
    ['239.255.255.0', 'groups/scope-top', 'RFC 2365 section 9'],
    ['239.255.255.245', 'groups/documentation', 'RFC 6676 section 2.1'],
    ['239.255.255.250', 'groups/scope-top', 'RFC 2365 section 9: SSDP'],
    ['239.255.255.255', 'groups/scope-top', 'RFC 2365 section 9: SAP'],
    ['240.0.0.0', 'groups/not-multicast', 'RFC 1112 section 4'],
  ] as const)('%s: %s (%s)', (group, rule, source) => {
    expect(placements([group]).get(group), source).toEqual(rule === undefined ? [] : [rule]);
  });
});

describe('groups derived from numbers conventions hold', () => {
  it("leaves RFC 3180 section 3.1's AS 5662 its 233.22.30.0/24 and nothing beside it", () => {
    const groups = ['233.22.29.255', '233.22.30.0', '233.22.30.255', '233.22.31.0'];
    const found = placements(groups, { conventions: { autonomousSystem: 5662 } });
    expect([...found.values()]).toEqual([['groups/foreign-glop'], [], [], ['groups/foreign-glop']]);
    for (const [group, rules] of placements(groups)) expect(rules, group).toEqual(['groups/foreign-glop']);
  });

  it('takes the examples of RFC 6034 section 4 and RFC 6676 section 2.3 for the examples they are', () => {
    for (const [group, rules] of placements(['234.192.0.2', '234.198.51.100', '234.203.0.113']))
      expect(rules, group).toEqual(['groups/documentation']);
  });

  it('refuses the prefixes RFC 6034 section 3 rules out, whoever lists them', () => {
    const groups = ['234.10.1.1', '234.127.0.1', '234.169.254.1', '234.172.16.1', '234.192.168.1', '234.224.0.1'];
    const conventions = {
      prefixes: ['10.0.0.0/8', '127.0.0.0/8', '169.254.0.0/16', '172.16.0.0/12', '192.168.0.0/16', '224.0.0.0/4'],
    };
    for (const [group, rules] of placements(groups, { conventions }))
      expect(rules, group).toEqual(['groups/foreign-unicast-prefix']);
  });
});

describe('IPv6 groups', () => {
  it.each([
    ['ff02::fb', 'groups/local-control', 'mDNS, the registry'],
    ['ff0e::181', 'groups/assigned', 'PTP-primary, the registry'],
    ['ff05::2', 'groups/assigned', 'all routers, RFC 4291 section 2.7.1'],
    ['ff0e::db8:0:1', 'groups/documentation', 'RFC 6676 section 3'],
    ['ff10::1:2', 'groups/ipv6-scope', 'scope 0 is reserved, RFC 4291 section 2.7'],
    ['ff11::1:2', 'groups/ipv6-scope', 'scope 1 is the interface, RFC 4291 section 2.7'],
    ['ff12::1:2', undefined, 'scope 2 is well formed, RFC 4291 section 2.7'],
    ['ff18::1:2', undefined, 'RFC 4291 section 2.7'],
    ['ff08::1:2', 'groups/ipv6-flags', 'flag T is 0 and nothing is assigned, RFC 4291 section 2.7'],
    ['ff3e::4000:1', 'sources/ssm-reserved', 'RFC 4607 section 4.3'],
    ['ff3e::8000:1', undefined, 'RFC 4607 section 4.3'],
    ['ff35:30:3fff:fe00:dead:beef::', 'groups/ipv6-flags', 'bits beyond the prefix length of 48, RFC 3306 section 4'],
  ] as const)('%s: %s (%s)', (group, rule, source) => {
    expect(placements([group]).get(group), source).toEqual(rule === undefined ? [] : [rule]);
  });
});

interface Registry {
  readonly records: readonly { readonly name: string; readonly start?: string; readonly end?: string }[];
}

const REGISTRY = 'iana/ipv4-multicast.json';
const missing = unpublished(REGISTRY);

describe.skipIf(missing !== undefined)(`whole IANA IPv4 Multicast Address Space Registry${skipped(missing)}`, () => {
  const { records } = missing === undefined ? (JSON.parse(textOf(REGISTRY)) as Registry) : { records: [] };

  it('has one rule, and one only, for the ends of every record that is not for a plan to use', () => {
    const ends = [...new Set(records.flatMap(({ start, end }) => [start ?? [], end ?? []].flat()))];
    expect(ends.length).toBeGreaterThan(600);
    for (const [group, rules] of placements(ends))
      expect(rules.length, `${group}: ${rules.join()}`).toBe(free(group) ? 0 : 1);
  });

  it('has a rule for every group with a name of its own', () => {
    const named = records.flatMap(({ name, start, end }) =>
      start !== undefined && start === end && !/^(Unassigned|Reserved)/.test(name) ? [start] : [],
    );
    expect(named.length).toBeGreaterThan(200);
    for (const [group, rules] of placements(named)) expect(rules, group).toHaveLength(1);
  });
});

/** 232.0.1.0 and up, and 239 below the top of its two named scopes. */
function free(group: string): boolean {
  if (group.startsWith('232.')) return !group.startsWith('232.0.0.');
  return group.startsWith('239.') && !group.startsWith('239.255.255.') && !group.startsWith('239.195.255.');
}

describe('groups that share a multicast MAC', () => {
  it("finds the usable aliases of RFC 4541 section 4's pair 224.1.2.3 and 239.129.2.3, once", () => {
    const usable = ['232.1.2.3', '232.129.2.3', '239.1.2.3', '239.129.2.3'];
    const findings = lint(usable);
    expect(findings.map(({ rule, subject }) => [rule, subject])).toEqual([
      ['groups/ethernet-alias', '01:00:5e:01:02:03 in media'],
    ]);
    expect(findings[0]?.parties).toEqual(usable);
    const facts = findings[0]?.facts as EthernetAlias | undefined;
    expect(facts?.legs.map(({ group }) => formatAddress(group ?? 0)).sort()).toEqual(usable);
    expect(facts?.mac).toBe('01:00:5e:01:02:03');
  });

  it('says of 224.1.2.3 itself only that it is reserved', () => {
    const rules = lint(['224.1.2.3', '239.129.2.3']).map(({ rule }) => rule);
    expect(rules).toEqual(['groups/reserved-block']);
  });

  it.each([
    // The 28 bits of a group lose 5 on the way to Ethernet (RFC 1112 section 6.4): each bit set lost gives an alias.
    ['239.0.0.5', 'groups/floods', 'RFC 4541 section 4: 01:00:5e:00:00:05'],
    ['239.128.0.5', 'groups/floods', 'RFC 4541 section 4: 01:00:5e:00:00:05'],
    ['232.128.0.5', 'groups/floods', 'RFC 4541 section 4: 01:00:5e:00:00:05'],
    ['239.0.0.107', 'groups/floods', 'alias of PTP peer delay, 01:00:5e:00:00:6b'],
    ['239.0.1.129', 'groups/protocol-alias', 'alias of PTP, 01:00:5e:00:01:81'],
    ['239.128.1.129', 'groups/protocol-alias', 'alias of PTP, 01:00:5e:00:01:81'],
    ['232.0.1.129', 'groups/protocol-alias', 'alias of PTP, 01:00:5e:00:01:81'],
    ['239.128.1.1', 'groups/protocol-alias', 'alias of NTP, 01:00:5e:00:01:01'],
    ['239.1.1.129', undefined, "01:00:5e:01:01:81 is nobody's"],
    ['239.0.2.5', undefined, "01:00:5e:00:02:05 is nobody's"],
    ['224.128.0.5', 'groups/reserved-block', 'moving it off the reserved block comes first'],
  ] as const)('%s: %s (%s)', (group, rule, source) => {
    expect(
      lint([group]).map((finding) => finding.rule),
      source,
    ).toEqual(rule === undefined ? [] : [rule]);
  });
});
