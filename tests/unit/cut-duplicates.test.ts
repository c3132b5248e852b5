/**
 * Duplicates behind a cut trunk: one VLAN entry is one network as meant. The same plan with the trunk mended has the same
 * findings under the same keys, so that mending it brings nothing new; and the advice of each, carried out, ends it.
 */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Finding } from '../../src/lint/finding.js';

interface Rig {
  /** Whether the trunk carries the VLAN. */
  readonly whole: boolean;
  readonly group?: string;
  readonly address?: string;
  readonly mac?: string;
  /** VLAN of the second camera. */
  readonly vlan?: string;
}

function rig({
  whole,
  group = '239.192.10.11',
  address = '10.20.10.11',
  mac = '02:00:00:00:00:11',
  vlan,
}: Rig): string {
  const trunk = ['other', ...(whole ? ['video'] : [])];
  const camera = (
    name: string,
    at: string,
    own: { readonly group: string; readonly address: string; readonly mac: string },
  ) => ({
    name,
    interfaces: [
      {
        name: 'red',
        vlan: at,
        address: `${own.address}/24`,
        mac: own.mac,
        port: `${name === 'cam-1' ? 'core' : 'leaf'}/1`,
      },
    ],
    senders: [{ name: 'video', legs: [{ interface: 'red', group: own.group, port: 5004 }] }],
  });
  return JSON.stringify({
    rig: 'Heron',
    networks: [
      { name: 'red', role: 'media', leg: 1 },
      { name: 'island', role: 'media' },
    ],
    vlans: [
      { name: 'video', id: 210, network: 'red', subnet: '10.20.10.0/24' },
      { name: 'other', id: 220, network: 'red', subnet: '10.20.20.0/24' },
      { name: 'elsewhere', id: 230, network: 'island', subnet: '10.20.10.0/24' },
    ],
    switches: [
      {
        name: 'core',
        ports: [
          { name: '1', access: 'video' },
          { name: '9', trunk },
        ],
      },
      {
        name: 'leaf',
        ports: [
          { name: '1', access: vlan ?? 'video' },
          { name: '9', trunk },
        ],
      },
    ],
    links: [{ name: 'T1', ends: ['core/9', 'leaf/9'] }],
    devices: [
      camera('cam-1', 'video', { group: '239.192.10.11', address: '10.20.10.11', mac: '02:00:00:00:00:11' }),
      camera('cam-2', vlan ?? 'video', { group, address, mac }),
    ],
  });
}

const DUPLICATES = ['groups/two-senders', 'hosts/duplicate-address', 'hosts/duplicate-mac'];

function duplicates(one: Rig): readonly Finding[] {
  const { findings, problems } = lintInputs([{ name: 'plan.json', text: rig(one) }], RULES, { today: '2026-06-01' });
  expect(problems).toEqual([]);
  return findings.filter(({ rule }) => DUPLICATES.includes(rule));
}

function keys(one: Rig): readonly string[] {
  return duplicates(one)
    .map(({ rule, subject }) => `${rule} | ${subject}`)
    .sort();
}

describe('a duplicate in parts of one VLAN', () => {
  it.each<[string, Omit<Rig, 'whole'>, readonly string[]]>([
    ['group', { address: '10.20.10.12', mac: '02:00:00:00:00:12' }, ['groups/two-senders']],
    ['address', { group: '239.192.10.12', mac: '02:00:00:00:00:12' }, ['hosts/duplicate-address']],
    ['MAC', { group: '239.192.10.12', address: '10.20.10.12' }, ['hosts/duplicate-mac']],
  ])('%s is found once, behind a cut trunk as with a whole one, under one key', (_, change, rules) => {
    expect(duplicates({ whole: false, ...change }).map(({ rule }) => rule)).toEqual(rules);
    expect(keys({ whole: false, ...change })).toEqual(keys({ whole: true, ...change }));
  });

  it('is none where the numbers differ, or where the VLANs do and nothing joins them', () => {
    const other = { group: '239.192.10.12', address: '10.20.10.12', mac: '02:00:00:00:00:12' };
    expect(keys({ whole: false, ...other })).toEqual([]);
    expect(keys({ whole: false, vlan: 'elsewhere' })).toEqual([]);
  });

  it('is gone when its advice is carried out', () => {
    for (const whole of [false, true]) {
      const [found] = duplicates({ whole, group: '239.192.10.12', mac: '02:00:00:00:00:12' });
      const { free } = (found?.facts ?? {}) as { readonly free?: string };
      expect(free).toBeDefined();
      expect(keys({ whole, group: '239.192.10.12', mac: '02:00:00:00:00:12', address: free ?? '' })).toEqual([]);
    }
  });
});
