/** Every kind of clash that joining makes: two small rigs, clean alone, and the finding that says it, or where the report shows it. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { sidesByFile, rigsOf } from '../../src/merge/judge.js';
import { mergeRigs, type MergeOptions, type MergeResult } from '../../src/merge/merge.js';

const TODAY = '2026-06-01';

interface Rig {
  readonly net?: number;
  readonly id?: number;
  readonly subnet?: string;
  readonly host?: number;
  readonly address?: string;
  readonly group?: string;
  readonly source?: string;
  readonly mac?: string;
  readonly name?: string;
  readonly dhcp?: string;
  readonly igmp?: string;
  readonly practice?: string;
  readonly conventions?: string;
  readonly ptp?: string;
  readonly more?: string;
}

/** One camera on one network; whatever a kind of clash is not about is different in both rigs. */
function rig(name: string, { net = name === 'Heron' ? 20 : 30, ...own }: Rig): string {
  const subnet = own.subnet ?? `10.${net}.0.0/24`;
  const address = own.address ?? `10.${net}.0.${own.host ?? net}/24`;
  return [
    'rigproof: 1',
    `rig: ${name}`,
    ...(own.practice === undefined ? [] : [`practice: ${own.practice}`]),
    ...(own.conventions === undefined ? [] : [`conventions: ${own.conventions}`]),
    'networks: [{name: red, role: media, leg: 1}]',
    'vlans:',
    `  - name: ${name}-red`,
    `    id: ${own.id ?? net}`,
    '    network: red',
    `    subnet: ${subnet}`,
    ...(own.dhcp === undefined ? [] : [`    dhcp: ${own.dhcp}`]),
    `    igmp: {snooping: true, version: 3, querier: [{address: 10.${net}.0.1}]${own.igmp ?? ''}}`,
    '    routing: {mode: none}',
    ...(own.ptp === undefined ? [] : [own.ptp]),
    'devices:',
    `  - name: ${own.name ?? `${name}-cam`}`,
    `    interfaces: [{name: red, vlan: ${name}-red, address: ${address}${own.mac === undefined ? '' : `, mac: '${own.mac}'`}}]`,
    `    senders: [{name: picture, essence: video, legs: [{interface: red, group: ${own.group ?? `239.1.1.${net}`}, port: 5004${own.source === undefined ? '' : `, source: ${own.source}`}}]}]`,
    ...(own.more === undefined ? [] : [own.more]),
    '',
  ].join('\n');
}

const ONE = 'rigproof: 1\njoins: [{vlans: [Heron-red, Dunlin-red]}]\n';
const MEET = 'rigproof: 1\njoins: [{networks: [Heron:red, Dunlin:red]}]\n';

function merge(a: Rig, b: Rig, join: string, more: Partial<MergeOptions> = {}): MergeResult {
  const side = (name: string, own: Rig): { from: string; inputs: { name: string; text: string }[] } => ({
    from: `${name}.yaml`,
    inputs: [{ name: `${name}.yaml`, text: rig(name, own) }],
  });
  return mergeRigs([side('Heron', a), side('Dunlin', b)], RULES, {
    today: TODAY,
    joining: [{ name: 'join.yaml', text: join }],
    ...more,
  });
}

const clock = (name: string, priority1: number, domain: number): string =>
  `  - name: ${name}\n    ptp: {mode: ordinary, domain: ${domain}, priority1: ${priority1}, clockClass: 6, grandmaster: true, traceable: true}\n    interfaces: [{name: red, vlan: ${name.slice(0, name.indexOf('-'))}-red, address: ${name.startsWith('Heron') ? '10.20.0.9/24' : '10.30.0.9/24'}}]`;
const follower = (rigName: string, domain: number): string =>
  `  - name: ${rigName}-desk\n    ptp: {mode: ordinary, domain: ${domain}, slaveOnly: true}\n    interfaces: [{name: red, vlan: ${rigName}-red, address: ${rigName === 'Heron' ? '10.20.0.8/24' : '10.30.0.8/24'}}]`;
const clocks = (rigName: string, priority1: number, domain = 127): Rig => ({
  ptp: `timing: {domains: [{number: ${domain}, grandmasters: [${rigName}-clock]}]}`,
  more: `${clock(`${rigName}-clock`, priority1, domain)}\n${follower(rigName, domain)}`,
});

const KINDS: readonly (readonly [kind: string, heron: Rig, dunlin: Rig, join: string, rule: string])[] = [
  ['one group', { group: '239.1.1.1' }, { group: '239.1.1.1' }, ONE, 'groups/two-senders'],
  ['one group on networks that meet', { group: '239.1.1.1' }, { group: '239.1.1.1' }, MEET, 'groups/two-senders'],
  [
    'one source and group',
    { net: 20, group: '232.1.1.1', source: '10.20.0.20', practice: '{follows: rfc4607}' },
    {
      net: 20,
      id: 30,
      host: 20,
      address: '10.20.0.20/24',
      group: '232.1.1.1',
      source: '10.20.0.20',
      practice: '{follows: rfc4607}',
    },
    ONE,
    'groups/two-senders',
  ],
  ['one multicast MAC of two groups', { group: '239.1.1.1' }, { group: '239.129.1.1' }, ONE, 'groups/ethernet-alias'],
  ['one address', { net: 20 }, { net: 20, id: 30, group: '239.1.1.9' }, ONE, 'hosts/duplicate-address'],
  ['one MAC', { mac: '00:1b:19:00:00:01' }, { mac: '00:1b:19:00:00:01' }, ONE, 'hosts/duplicate-mac'],
  ['overlapping subnets', { net: 20 }, { net: 20, id: 30, host: 30, group: '239.1.1.9' }, MEET, 'subnets/overlap'],
  ['one id for two VLANs', { id: 110 }, { id: 110 }, MEET, 'vlans/id-twice'],
  ['two ids for one VLAN', { id: 110 }, { id: 210 }, ONE, 'vlans/joined-ids-differ'],
  ['one name', { name: 'multiviewer' }, { name: 'multiviewer' }, ONE, 'plan/duplicate-name'],
  [
    'DHCP ranges that overlap',
    { net: 20, dhcp: '10.20.0.100-10.20.0.150' },
    { net: 20, id: 20, host: 30, group: '239.1.1.9', dhcp: '10.20.0.140-10.20.0.190' },
    ONE,
    'subnets/dhcp-ranges-overlap',
  ],
  [
    "an address in the other's DHCP range",
    { net: 20, dhcp: '10.20.0.100-10.20.0.150' },
    { net: 20, id: 20, host: 120, group: '239.1.1.9' },
    ONE,
    'hosts/in-dhcp-range',
  ],
  ['query timers', { igmp: ', queryInterval: 125' }, { igmp: ', queryInterval: 60' }, ONE, 'igmp/settings-differ'],
  ['who leads the clocks', clocks('Heron', 10), clocks('Dunlin', 1), ONE, 'timing/leader-not-agreed'],
];

describe.each(KINDS)('%s', (_, heron, dunlin, join, rule) => {
  it('is no fault of either rig alone', () => {
    for (const [name, own] of [
      ['Heron', heron],
      ['Dunlin', dunlin],
    ] as const) {
      const { findings, problems } = lintInputs([{ name: `${name}.yaml`, text: rig(name, own) }], RULES, {
        today: TODAY,
      });
      expect(problems).toEqual([]);
      expect(findings.filter((finding) => finding.rule === rule)).toEqual([]);
    }
  });

  it(`is ${rule} of both`, () => {
    const result = merge(heron, dunlin, join);
    const found = (result.joined?.findings ?? []).filter((finding) => finding.rule === rule);
    expect(result.problems).toEqual([]);
    expect(found).toHaveLength(1);
    const [first] = found;
    expect(first === undefined ? [] : rigsOf(first, sidesByFile(result.sides))).toEqual(['Dunlin', 'Heron']);
  });
});

describe('an IGMP version each', () => {
  it('is igmp/settings-differ of both', () => {
    const older = (text: string): string => text.replace('version: 3', 'version: 2');
    const sides = [
      { from: 'Heron.yaml', inputs: [{ name: 'Heron.yaml', text: rig('Heron', {}) }] },
      { from: 'Dunlin.yaml', inputs: [{ name: 'Dunlin.yaml', text: older(rig('Dunlin', {})) }] },
    ];
    const result = mergeRigs(sides, RULES, { today: TODAY, joining: [{ name: 'join.yaml', text: ONE }] });
    expect(result.joined?.findings.filter(({ rule }) => rule === 'igmp/settings-differ')).toHaveLength(1);
  });
});

describe('PTP domains that are not one', () => {
  it('leave each rig to its own clock, and the report says so', () => {
    const result = merge(clocks('Heron', 10, 127), clocks('Dunlin', 1, 0), ONE);
    expect(result.meeting?.clocks).toEqual([]);
    expect(result.meeting?.timeApart).toEqual([
      { rig: 'Dunlin', domains: [0] },
      { rig: 'Heron', domains: [127] },
    ]);
    expect(result.joined?.findings.some(({ rule }) => rule === 'timing/leader-not-agreed')).toBe(false);
  });
});

describe('what is no fault but has to be known', () => {
  it('is whose clock leads, and who steps', () => {
    const { meeting } = merge(clocks('Heron', 10), clocks('Dunlin', 1), ONE);
    expect(meeting?.clocks).toEqual([
      {
        domain: 127,
        leaders: [{ name: 'Dunlin-clock', rig: 'Dunlin' }],
        step: [{ rig: 'Heron', clocks: 1, from: 'Heron-clock' }],
      },
    ]);
  });

  it('is which groups both rigs hand out', () => {
    const conventions = '{groups: [{network: red, ranges: [239.1.0.0-239.1.9.255]}]}';
    const other = '{groups: [{network: red, ranges: [239.1.5.0-239.1.20.255]}]}';
    const { meeting } = merge({ conventions }, { conventions: other, group: '239.1.15.1' }, ONE);
    expect(meeting?.ranges).toEqual([{ range: '239.1.5.0-239.1.9.255', rigs: ['Dunlin', 'Heron'] }]);
  });
});
