/** The crew's sheets: every fact of the plan in its row, sorted, safe to open, and a stream list that reads back. */
import { worded } from '../tools/worded.js';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Leg } from '../../src/plan/types.js';
import { readCsv } from '../../src/read/csv.js';
import { readInputs } from '../../src/edge/files.js';
import { formatAddress } from '../../src/values/address.js';
import { modelOf } from '../tools/network-plans.js';
import { documentOf } from '../tools/tree-checks.js';
import { folderOf, RIGS, textOf, rowsOf, tableOf, small } from '../tools/crew-tables.js';

describe('the host list', () => {
  it('has a row an interface and an address of a switch: areas and numbers in order, what has no area last', () => {
    expect(tableOf(small, 'hosts', ['area', 'device', 'kind', 'interface'])).toEqual([
      ['start pontoon', 'stage-9', 'stage-box', 'red'],
      ['start pontoon', 'stage-9', 'stage-box', 'video'],
      ['start pontoon', 'stage-10', 'stage-box', 'control'],
      ['start pontoon', 'stage-10', 'stage-box', 'red'],
      ['', 'desk', '', 'control'],
      ['', 'desk', '', 'red'],
      ['', 'red-core', 'switch', ''],
    ]);
  });

  it('says what is typed in: the prefix length of the VLAN where none is stated, DHCP where the server gives it', () => {
    expect(
      tableOf(small, 'hosts', [
        'VLAN',
        'VLAN id',
        'address',
        'IPv6 address',
        'DHCP',
        'gateway',
        'MAC',
        'switch port',
        'rate Gbit/s',
      ]),
    ).toEqual([
      ['red-audio', '220', '10.20.20.3/28', '', '', '', '', '', '1'],
      ['red-video', '30', '', 'fd00:20::9/64', '', '', '', '', ''],
      ['control', '100', '', '', 'yes', '', '', '', ''],
      ['red-audio', '220', '10.20.20.4/28', '', '', '', '02:48:20:20:00:10', 'red-start/1', '1'],
      ['control', '100', '192.168.10.20/24', '', 'reserved', '192.168.10.1', '', '', ''],
      // Its rate is the port's.
      ['red-audio', '220', '', '', '', '', '', 'red-core/2', '1'],
      ['red-audio', '220', '10.20.20.2/28', '', '', '', '', '', ''],
    ]);
  });

  it('leaves out a column for IPv6 where nobody has an IPv6 address, and one for the rig where there is one rig', () => {
    expect(textOf(modelOf('devices: [{name: a, interfaces: [{name: red}]}]').plan, 'hosts').split('\r\n')[0]).toBe(
      '"area","device","kind","interface","network","VLAN","VLAN id","address","DHCP","gateway","MAC","switch port","rate Gbit/s"',
    );
  });
});

describe('the stream list', () => {
  it('has a row a leg, with the rate on the wire and everyone who takes it', () => {
    expect(textOf(small, 'streams').split('\r\n')).toEqual([
      '"area","device","stream","essence","format","leg","network","VLAN","group","UDP port","source","payload type","rate Mbit/s","receivers"',
      // 288 octets of samples a millisecond (AES67 §7.2) under 12 RTP, 8 UDP, 20 IPv4, 14+4 Ethernet, 20 preamble and gap.
      `"start pontoon","stage-9","mics","audio","pair",1,"red","red-audio","10.20.20.4",5004,"10.20.20.3",,${((288 + 78) * 8) / 1000},`,
      `"start pontoon","stage-10","mics","audio","pair",1,"red","red-audio","239.192.120.10",5004,"10.20.20.4",97,${((288 + 78) * 8) / 1000},"desk/any, desk/in-2 and desk/in-10"`,
      '',
    ]);
  });

  it('names no more receivers than a cell holds, and how many more there are', () => {
    const receivers = Array.from({ length: 62 }, (_, index) => `{name: in-${index + 1}, takes: cam/video}`).join(', ');
    const { plan } = modelOf(
      `devices: [{name: cam, senders: [{name: video, legs: [{group: 239.192.10.1}]}]}, {name: wall, receivers: [${receivers}]}]`,
    );
    expect(rowsOf(plan, 'streams')[0]?.['receivers']).toMatch(/^wall\/in-1, wall\/in-2, .*wall\/in-50 and 12 more$/);
  });

  it.each(RIGS)('of %s gives the same groups, ports and sources when it is read back', (rig) => {
    const { plan } = loadPlan(readInputs([folderOf(rig)]).inputs);
    const read = documentOf(readCsv('streams.csv', textOf(plan, 'streams'))).value as {
      readonly streams: readonly { readonly name: string; readonly legs: readonly object[] }[];
    };
    expect(plan.senders.length).toBeGreaterThan(100);
    const planned = plan.senders.map(({ name, device, legs }) => [
      // The reader says the device once.
      name.startsWith(device?.name ?? '\0') ? name : `${device?.name ?? ''} ${name}`,
      legs.map(numbersOf),
    ]);
    const back = read.streams.map(({ name, legs }) => [name, legs]);
    expect(new Map(back as [string, object[]][])).toEqual(new Map(planned as [string, object[]][]));
    expect(back.length).toBe(planned.length);
  });

  it.each(RIGS)('of %s beside its plan describes every stream of it, and nothing is found', (rig) => {
    const { inputs } = readInputs([folderOf(rig)]);
    const { plan } = loadPlan(inputs);
    const both = [...inputs, { name: 'streams.csv', text: textOf(plan, 'streams') }];
    const joined = loadPlan(both);
    expect(joined.problems).toEqual([]);
    expect(joined.plan.unresolved).toEqual([]);
    expect(joined.plan.descriptions.length).toBe(plan.senders.length);
    expect(
      lintInputs(both, RULES, { today: '2026-06-01' })
        .findings.map(worded)
        .map(({ rule, what }) => [rule, what]),
    ).toEqual([]);
  });
});

/** A leg in the words of the reader. */
function numbersOf({ group, unicast, source, port, payloadType, network, vlan }: Leg): object {
  const stated = {
    network: network?.name,
    vlan: vlan?.name,
    group: group === undefined ? undefined : formatAddress(group),
    unicast: unicast === undefined ? undefined : formatAddress(unicast),
    source: source === undefined ? undefined : formatAddress(source),
    port,
    payloadType,
  };
  return Object.fromEntries(Object.entries(stated).filter(([, value]) => value !== undefined));
}

describe('the VLAN list', () => {
  it('says who queries and who stands by, the lowest address first (RFC 3376 §6.6.2), and how much room is left', () => {
    expect(
      tableOf(small, 'vlans', [
        'VLAN id',
        'VLAN',
        'subnet',
        'IPv6 subnet',
        'gateway',
        'DHCP',
        'IGMP querier',
        'IGMP backup querier',
        'IGMP version',
        'hosts used',
        'hosts free',
      ]),
    ).toEqual([
      ['30', 'red-video', '', 'fd00:20::/64', '', '', '', '', '', '', ''],
      [
        '100',
        'control',
        '192.168.10.0/24',
        '',
        '192.168.10.1',
        '192.168.10.100-192.168.10.199',
        '',
        '',
        '',
        '102',
        '152',
      ],
      // A /28 has 14 (RFC 1878 Table 1-2): gateway, two queriers, two stage boxes, and the desk that has none yet.
      [
        '220',
        'red-audio',
        '10.20.20.0/28',
        '',
        '10.20.20.1',
        '',
        'red-core 10.20.20.2',
        'red-start 10.20.20.10',
        '3',
        '6',
        '8',
      ],
    ]);
  });
});

describe('the port list', () => {
  it('says how each port is set up and what is on the other end', () => {
    expect(
      tableOf(small, 'ports', ['switch', 'port', 'rate Gbit/s', 'mode', 'VLAN untagged', 'VLANs tagged', 'other end']),
    ).toEqual([
      ['red-core', '2', '1', 'access', 'red-audio (220)', '', 'desk red'],
      ['red-core', '3', '', 'trunk', '', 'all', ''],
      ['red-core', '10', '25', 'trunk', 'red-video (30)', 'red-audio (220)', 'red-start/9 by link R1'],
      ['red-start', '1', '1', 'access', 'red-audio (220)', '', 'stage-10 red'],
      ['red-start', '2', '1', 'access', 'red-audio (220)', '', ''],
      ['red-start', '9', '25', 'trunk', '', 'red-video (30), red-audio (220)', 'red-core/10 by link R1'],
    ]);
  });
});

describe('the clock sheet', () => {
  it('puts the leader the domain lists first on top, and shows only what the plan states', () => {
    expect(
      tableOf(small, 'clocks', [
        'PTP domain',
        'clock',
        'mode',
        'role',
        'priority1',
        'priority2',
        'clock class',
        'profile',
        'log announce interval',
        'log sync interval',
      ]),
    ).toEqual([
      ['127', 'clock-2', '', 'leader', '2', '', '6', 'AES67', '', '-3'],
      ['127', 'clock-1', '', 'backup', '1', '1', '6', 'ST 2059-2:2015', '', '-3'],
      // Slave-only is class 255 (IEEE 1588-2008 §9.2.2, from memory).
      ['127', 'stage-10', 'ordinary', 'follower', '', '', '255', 'ST 2059-2:2015', '', '-3'],
    ]);
  });

  it('takes the best claim for the leader where no list says, and gives a transparent clock no role', () => {
    const { plan } = modelOf(`
devices:
  - {name: clock-1, ptp: {domain: 1, grandmaster: true, priority1: 20}}
  - {name: clock-2, ptp: {domain: 1, grandmaster: true, priority1: 10}}
  - {name: clock-3, ptp: {domain: 1, grandmaster: true, slaveOnly: true}}
switches: [{name: leaf, ptp: {domain: 1, mode: p2p-transparent}}, {name: core, ptp: {mode: none}}]
`);
    expect(tableOf(plan, 'clocks', ['clock', 'role'])).toEqual([
      ['clock-2', 'leader'],
      ['clock-1', 'backup'],
      ['clock-3', 'follower'],
      ['leaf', ''],
    ]);
  });
});

describe('the area of a switch', () => {
  it('is in the host list and in the clock list, as that of a device is', () => {
    const { plan } = modelOf(`
vlans: [{name: v}]
switches:
  - {name: leaf, area: start pontoon, addresses: [{vlan: v, address: 10.20.20.2}], ptp: {domain: 1, mode: boundary}}
  - {name: core, addresses: [{vlan: v, address: 10.20.20.3}], ptp: {domain: 1, mode: boundary}}
devices: [{name: clock-1, area: start pontoon, ptp: {domain: 1, grandmaster: true}}]
`);
    const areas = [
      ['start pontoon', 'leaf'],
      ['', 'core'],
    ];
    expect(tableOf(plan, 'hosts', ['area', 'device'])).toEqual(areas);
    expect(tableOf(plan, 'clocks', ['area', 'clock'])).toEqual([['start pontoon', 'clock-1'], ...areas.toReversed()]);
  });
});
