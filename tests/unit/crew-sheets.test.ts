/** The crew's sheets: every fact of the plan in its row, sorted, safe to open, and a stream list that reads back. */
import { worded } from '../tools/worded.js';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { createModel } from '../../src/model/model.js';
import type { Leg, Plan } from '../../src/plan/types.js';
import { readCsv } from '../../src/read/csv.js';
import { asTextInput } from '../tools/texts.js';
import { readInputs } from '../../src/edge/files.js';
import { crewSheets, SHEETS, type SheetName } from '../../src/reporters/crew.js';
import { escapeText } from '../../src/page/escape.js';
import { formatAddress } from '../../src/values/address.js';
import { generatePlan } from '../bench/generate.js';
import { hostileModel, modelOf } from '../tools/network-plans.js';
import { HOSTILE_TEXTS } from '../tools/report-samples.js';
import { documentOf } from '../tools/tree-checks.js';
import { growth, LINEAR } from '../tools/growth.js';

type Row = Readonly<Record<string, string>>;

const folderOf = (rig: string): string => fileURLToPath(new URL(`../../examples/kestrel-bay/${rig}`, import.meta.url));
const RIGS = ['heron', 'osprey'] as const;

function textOf(plan: Plan, name: SheetName): string {
  const sheet = crewSheets(plan, [name])[0];
  if (sheet === undefined) throw new Error(`no sheet ${name}`);
  return sheet.text;
}

/** Rows as the CSV library reads them. */
function rowsOf(plan: Plan, name: SheetName): readonly Row[] {
  return parse(textOf(plan, name), { columns: true });
}

function cellsOf(text: string): readonly (readonly string[])[] {
  const cells: string[][] = parse(text);
  return cells;
}

function tableOf(plan: Plan, name: SheetName, headings: readonly string[]): readonly (readonly string[])[] {
  return rowsOf(plan, name).map((row) => headings.map((heading) => row[heading] ?? 'no such column'));
}

/** A start pontoon and a finish tower, with everything a sheet can show. */
const SMALL = `
rig: Heron
networks: [{name: red, role: media, leg: 1}, {name: control, role: control}]
formats: [{name: pair, coding: st2110-30, channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: 1 ms}]
vlans:
  - name: red-audio
    id: 220
    network: red
    subnet: 10.20.20.0/28
    gateway: 10.20.20.1
    igmp: {version: 3, querier: [{on: red-start, address: 10.20.20.10}, {on: red-core, address: 10.20.20.2}]}
  - {name: red-video, id: 30, network: red, subnet6: 'fd00:20::/64'}
  - {name: control, id: 100, network: control, subnet: 192.168.10.0/24, gateway: 192.168.10.1, dhcp: 192.168.10.100-192.168.10.199}
switches:
  - name: red-core
    ports:
      - {name: 10, rate: 25G, trunk: [red-audio, red-video], native: red-video}
      - {name: 2, rate: 1G, access: red-audio}
      - {name: 3, trunk: all}
    addresses: [{vlan: red-audio, address: 10.20.20.2}]
  - {name: red-start, ports: [{name: 1-2, rate: 1G, access: red-audio}, {name: 9, rate: 25G, trunk: [red-audio, red-video]}]}
links: [{name: R1, ends: [red-core/10, red-start/9]}]
timing: {domains: [{number: 127, profile: ST 2059-2, edition: '2015', logSyncInterval: -3, grandmasters: [clock-2, clock-1]}]}
kinds: [{name: stage-box, interfaces: [{name: red, vlan: red-audio, rate: 1G}]}]
devices:
  - name: stage-10
    kind: stage-box
    area: start pontoon
    ptp: {mode: ordinary, slaveOnly: true}
    interfaces: [{name: red, address: 10.20.20.4, mac: 02-48-20-20-00-10, port: red-start/1}, {name: control, vlan: control, dhcp: true}]
    senders: [{name: mics, format: pair, legs: [{interface: red, group: 239.192.120.10, port: 5004, payloadType: 97}]}]
  - name: stage-9
    kind: stage-box
    area: start pontoon
    interfaces: [{name: red, address: 10.20.20.3/28}, {name: video, vlan: red-video, address6: 'fd00:20::9'}]
    senders: [{name: mics, format: pair, legs: [{interface: red, unicast: 10.20.20.4, port: 5004}]}]
  - name: desk
    interfaces: [{name: red, vlan: red-audio, port: red-core/2}, {name: control, vlan: control, dhcp: true, address: 192.168.10.20/24, gateway: 192.168.10.1}]
    receivers: [{name: in-10, takes: stage-10/mics, interfaces: [red]}, {name: in-2, takes: stage-10/mics, interfaces: [red]}, {name: any, legs: [{interface: red, group: 239.192.120.10}]}]
  - {name: clock-1, ptp: {domain: 127, priority1: 1, priority2: 1, clockClass: 6}}
  - {name: clock-2, ptp: {domain: 127, priority1: 2, clockClass: 6, profile: AES67}}
`;
const small = modelOf(SMALL).plan;

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

describe('sheets', () => {
  it('are left out where they would be empty', () => {
    const { plan } = modelOf('devices: [{name: cam, senders: [{name: video, legs: [{group: 239.192.10.1}]}]}]');
    expect(crewSheets(plan).map(({ name, rows }) => [name, rows])).toEqual([['streams.csv', 1]]);
    expect(crewSheets(modelOf('devices: [{name: cam}]').plan)).toEqual([]);
  });

  it.each(RIGS)('of %s have a row for every interface, leg, VLAN, port and clock', (rig) => {
    const { plan } = loadPlan(readInputs([folderOf(rig)]).inputs);
    const addresses = plan.switches.reduce((sum, one) => sum + one.addresses.length, 0);
    const counts: Readonly<Record<SheetName, number>> = {
      hosts: plan.interfaces.length + addresses,
      streams: plan.legs.length,
      vlans: plan.vlans.length,
      ports: plan.switches.reduce((sum, one) => sum + one.ports.size, 0),
      clocks: [...plan.devices, ...plan.switches].filter(({ ptp }) => ptp !== undefined && ptp.mode !== 'none').length,
    };
    for (const { name, text, rows } of crewSheets(plan)) {
      const subject = name.replace('.csv', '') as SheetName;
      expect([name, rows]).toEqual([name, counts[subject]]);
      expect(cellsOf(text).length).toBe(rows + 1);
    }
    expect(crewSheets(plan).length).toBe(SHEETS.length);
  });

  it('do not change with the order of the plan', () => {
    const forwards = readInputs([folderOf('osprey')]).inputs.map(asTextInput);
    const reordered = forwards
      .map(({ name, text, ...rest }) => ({ name, text: reversedDevices(text), ...rest }))
      .toReversed();
    expect(crewSheets(loadPlan(reordered).plan)).toEqual(crewSheets(loadPlan(forwards).plan));
    expect(reordered.some(({ text }, index) => text !== forwards.toReversed()[index]?.text)).toBe(true);
  });

  it('of joined rigs say which rig each row is of', () => {
    const { inputs } = readInputs(RIGS.map(folderOf));
    const { plan } = loadPlan(inputs);
    for (const name of SHEETS) {
      const rigs = new Set(rowsOf(plan, name).map((row) => row['rig']));
      expect([name, [...rigs]]).toEqual([name, ['Heron', 'Osprey']]);
    }
  });

  it('are safe to open: names are never formulas, commands or further rows', () => {
    const named = fc.oneof(
      fc.constantFrom(...HOSTILE_TEXTS, '=1+1', '+1', '-1', '@x', '\t=1', '"; DROP', 'a","b', "'="),
      fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' }).filter((name) => !name.includes('/')),
    );
    fc.assert(
      fc.property(named, (name) => {
        const { plan } = hostileModel(
          SMALL,
          /^(stage-10|start pontoon|red-audio|mics|red-core|clock-1|R1)$/,
          (one) => one + name,
        );
        for (const { text, rows } of crewSheets(plan)) {
          const cells = cellsOf(text).flat();
          expect(cellsOf(text).length).toBe(rows + 1);
          for (const cell of cells) expect(cell).toBe(escapeText(cell));
        }
      }),
      { numRuns: 60 },
    );
    const whole = hostileModel(SMALL, /^(stage-10|mics|red-audio)$/, (one) => `=${one}`).plan;
    const cells = crewSheets(whole).flatMap(({ text }) => cellsOf(text).flat());
    expect(cells.filter((cell) => /^[=+@]/.test(cell))).toEqual([]);
    expect(cells).toContain("'=stage-10");
  });

  it('take time in proportion to their streams', () => {
    const planOf = (streams: number) =>
      createModel(loadPlan([{ name: 'large.json', text: JSON.stringify(generatePlan(streams)) }]).plan).plan;
    expect(growth(20_000, planOf, crewSheets)).toBeLessThan(LINEAR);
    const sheets = crewSheets(planOf(20_000));
    expect(sheets.find(({ name }) => name === 'streams.csv')?.rows).toBe(40_000);
  });
});

/** The entries of every list of devices in a YAML text in the opposite order. */
function reversedDevices(text: string): string {
  const [head = '', rest] = text.split(/^devices:\n/m);
  if (rest === undefined) return text;
  const entries = rest.split(/^(?= {2}- name: )/m);
  const [comment = '', ...devices] = /^ {2}- name: /.test(entries[0] ?? '') ? ['', ...entries] : entries;
  return `${head}devices:\n${comment}${devices.toReversed().join('')}`;
}
