/** What the rules about hosts and subnets say of several rigs at once, and that it does not hang on the order of a plan. */
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import type { Finding } from '../../src/lint/finding.js';
import { plainFacts } from '../../src/words/plain-facts.js';
import type { Facts as NearlyFull } from '../../rules/subnets/nearly-full/words.js';
import { loadRule, ruleFolders } from '../rules/load.js';

const RULES = await Promise.all(ruleFolders('hosts,subnets').map(loadRule));

function lint(...texts: readonly string[]): readonly Finding[] {
  const result = lintInputs(
    texts.map((text, index) => ({ name: `plan-${index}.yaml`, text })),
    RULES,
    { today: '2026-06-01' },
  );
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

function short(findings: readonly Finding[]): readonly string[] {
  return findings.map(({ rule, severity, subject }) => `${severity} ${rule} ${subject}`).sort();
}

function rig(name: string, link = ''): string {
  return [
    `rig: ${name}`,
    'vlans: [{name: talk, id: 30, subnet: 10.20.30.0/24}]',
    `switches: [{name: ${name}-core, ports: [{name: 1-8, access: talk}, {name: 9, trunk: [talk]}]}]`,
    `devices: [{name: ${name}-panel, interfaces: [{name: lan, vlan: talk, address: 10.20.30.31/24, port: ${name}-core/1, mac: '02:48:20:30:00:31'}]}]`,
    link,
  ].join('\n');
}

describe('two rigs', () => {
  it('may number their islands alike', () => {
    expect(short(lint(rig('Heron'), rig('Dunlin')))).toEqual([]);
  });

  it('clash once a link makes one VLAN of both; the copied entry is one fault', () => {
    expect(short(lint(rig('Heron'), rig('Dunlin', 'links: [{ends: [Heron-core/9, Dunlin-core/9]}]')))).toEqual([
      'error hosts/duplicate-address 10.20.30.31 in talk in rig Dunlin',
    ]);
  });

  it('overlap when a link ties VLANs of unlike subnets together', () => {
    const wide = rig('Dunlin', 'links: [{ends: [Heron-core/9, Dunlin-core/9]}]')
      .replace('10.20.30.0/24', '10.20.0.0/16')
      .replaceAll('10.20.30.31/24', '10.20.40.32/16');
    expect(short(lint(rig('Heron'), wide.replace('00:31', '00:32')))).toEqual([
      'error subnets/overlap talk in rig Dunlin, talk in rig Heron',
    ]);
  });
});

describe('a threshold', () => {
  const almostFull = (name: string, percent?: number): string =>
    [
      `rig: ${name}`,
      ...(percent === undefined ? [] : [`conventions: {thresholds: {subnets/nearly-full.percent: ${percent}}}`]),
      `vlans: [{name: ${name}-guest, subnet: 172.16.${name.length}.0/28, dhcp: 172.16.${name.length}.3-172.16.${name.length}.14}]`,
    ].join('\n');
  const reported = (...texts: readonly string[]): readonly string[] =>
    lint(...texts)
      .map(({ facts }) => (facts as NearlyFull).vlan.name)
      .sort();

  // 12 of 14 addresses are used: 86 percent.
  it.each([
    { heron: 80, dunlin: 90, over: ['Heron-guest'] },
    { heron: 90, dunlin: 80, over: ['Dunlin-guest'] },
    { heron: 80, dunlin: undefined, over: ['Heron-guest'] },
    { heron: 80, dunlin: 80, over: ['Dunlin-guest', 'Heron-guest'] },
    { heron: undefined, dunlin: undefined, over: [] },
  ])('of $heron and $dunlin percent is that of its own rig, whichever file comes first', ({ heron, dunlin, over }) => {
    const texts = [almostFull('Heron', heron), almostFull('Dunlin', dunlin)];
    expect(reported(...texts)).toEqual(over);
    expect(reported(...texts.toReversed())).toEqual(over);
  });
});

describe('one cause, one finding', () => {
  it('an overlap of two VLANs is not reported again for each doubled address', () => {
    expect(
      short(
        lint(
          [
            'rig: Heron',
            'vlans: [{name: one, subnet: 10.20.10.0/24, gateway: 10.20.10.1}, {name: two, subnet: 10.20.10.0/24, gateway: 10.20.10.1}]',
            'devices:',
            '  - {name: cam-1, interfaces: [{name: red, vlan: one, address: 10.20.10.11/24}]}',
            '  - {name: cam-2, interfaces: [{name: red, vlan: two, address: 10.20.10.11/24}]}',
          ].join('\n'),
        ),
      ),
    ).toEqual(['error subnets/overlap one, two in rig Heron']);
  });

  it('a wrong subnet takes its gateway and its DHCP range along', () => {
    expect(
      short(
        lint(
          [
            'rig: Heron',
            'vlans: [{name: control, subnet: 10.20.11.0/24, gateway: 10.20.10.1, dhcp: 10.20.10.100-10.20.10.199}]',
            'devices:',
            '  - {name: cam-1, interfaces: [{name: lan, vlan: control, address: 10.20.10.11/24, gateway: 10.20.10.1}]}',
            '  - {name: cam-2, interfaces: [{name: lan, vlan: control, address: 10.20.10.12/24, gateway: 10.20.10.1}]}',
          ].join('\n'),
        ),
      ),
    ).toEqual(['error hosts/outside-subnet control in rig Heron, 10.20.11.0/24']);
  });

  it('an address on the wrong leg is not called a double, nor two in one subnet', () => {
    expect(
      short(
        lint(
          [
            'rig: Heron',
            'vlans: [{name: red, subnet: 10.20.10.0/24}, {name: blue, subnet: 10.21.10.0/24}]',
            'devices:',
            '  - {name: cam-1, interfaces: [{name: red, vlan: red, address: 10.20.10.11/24}, {name: blue, vlan: blue, address: 10.21.10.11/24}]}',
            '  - {name: cam-2, interfaces: [{name: red, vlan: red, address: 10.20.10.12/24}, {name: blue, vlan: blue, address: 10.20.10.11/24}]}',
          ].join('\n'),
        ),
      ),
    ).toEqual(['error hosts/outside-subnet 10.20.10.11 on cam-2 blue in rig Heron']);
  });

  it('a switch that is written as a device too is one box', () => {
    const held = "vlan: management, address: 192.168.11.1/24, mac: '02:48:00:11:00:01'";
    const plan = (device: string): readonly string[] =>
      short(
        lint(
          [
            'rig: Heron',
            'vlans: [{name: management, subnet: 192.168.11.0/24}]',
            `switches: [{name: red-core, addresses: [{${held}}]}]`,
            `devices: [{name: ${device}, interfaces: [{name: lan, ${held}}]}]`,
          ].join('\n'),
        ),
      );
    expect(plan('red-core')).toEqual([]);
    expect(plan('red-leaf')).toEqual(['error hosts/duplicate-address 192.168.11.1 in management in rig Heron']);
  });

  it('a kind with a wrong gateway is one finding for all its devices', () => {
    const devices = [11, 12, 13].map(
      (unit) => `  - {name: cam-${unit}, kind: camera, interfaces: [{name: lan, address: 192.168.10.${unit}/24}]}`,
    );
    const [finding, ...rest] = lint(
      [
        'rig: Heron',
        'vlans: [{name: control, subnet: 192.168.10.0/24, gateway: 192.168.10.1}]',
        'kinds: [{name: camera, interfaces: [{name: lan, vlan: control, gateway: 192.168.11.1}]}]',
        'devices:',
        ...devices,
      ].join('\n'),
    );
    expect(rest).toEqual([]);
    expect(finding?.subject).toBe('192.168.11.1 in control in rig Heron');
    expect(finding?.at.line).toBe(3);
  });
});

describe('the order of a plan', () => {
  const devices = [
    '  - {name: cam-1, interfaces: [{name: red, vlan: red, address: 10.20.10.12/24, mac: 00-00-5E-00-53-01}, {name: blue, vlan: blue, address: 10.21.10.0/24, gateway: 10.21.11.1}]}',
    '  - {name: cam-2, interfaces: [{name: red, vlan: red, address: 10.20.10.12/24, mac: 00-00-5E-00-53-02}, {name: blue, vlan: blue, address: 10.21.10.12/16, gateway: 10.21.11.1}]}',
    '  - {name: cam-3, interfaces: [{name: red, vlan: red, address: 10.20.10.13/24, mac: 00-00-5E-00-53-01}, {name: blue, vlan: blue, address: 10.21.10.13/24}]}',
    '  - {name: cam-4, interfaces: [{name: red, vlan: red, address: 10.20.10.13/24}, {name: blue, vlan: blue, address: 10.20.10.14/24}]}',
    '  - {name: cam-5, interfaces: [{name: red, vlan: red, address: 10.20.10.150/24}, {name: blue, vlan: red, address: 10.20.10.151/24}]}',
  ];
  const vlans = [
    '  - {name: red, subnet: 10.20.10.0/24, dhcp: 10.20.10.100-10.20.10.199}',
    '  - {name: blue, subnet: 10.21.10.0/24, gateway: 10.21.10.1}',
    '  - {name: spare, subnet: 10.21.10.128/25}',
  ];
  const plan = (first: readonly string[], second: readonly string[]): string =>
    ['rig: Heron', 'vlans:', ...first, 'devices:', ...second].join('\n');
  const data = (findings: readonly Finding[]): readonly string[] =>
    findings
      .map(({ rule, severity, confidence, subject, facts, parties, at, touch }) =>
        JSON.stringify([rule, severity, confidence, subject, plainFacts(facts), parties, at.label, at.note, touch]),
      )
      .sort();

  it('changes no fact of any finding', () => {
    const straight = data(lint(plan(vlans, devices)));
    expect(straight.length).toBeGreaterThan(8);
    expect(data(lint(plan(vlans.toReversed(), devices.toReversed())))).toEqual(straight);
    expect(
      data(lint(plan([...vlans.slice(1), ...vlans.slice(0, 1)], [...devices.slice(2), ...devices.slice(0, 2)]))),
    ).toEqual(straight);
  });
});
