/** Rigs of IPv6 groups made by hand, with what a Linux bridge (MLD, RFC 3810) and Open vSwitch do with them, written out. */
import type { Case } from './cases.js';
import type { Plane, ShortHost, ShortMld, ShortRig } from './rigs.js';
import type { Picture } from './twin.js';

const GROUP = 'ff15::1:1';

function hostAt(name: string, at: string, number: number, more: Partial<ShortHost> = {}): ShortHost {
  return { name, at, address: `10.0.0.${number}`, address6: `fd00::${number}`, ...more };
}

const QUERIERS_4 = [{ on: 'core', address: '10.0.250.1' }] as const;
const QUERIERS_6 = [{ on: 'core', address: 'fe80::fa1' }] as const;

function row(hosts: readonly ShortHost[], mld: ShortMld, plane: Plane = 'bridges', each?: ShortRig['each']): ShortRig {
  const asker = plane === 'openvswitch';
  return {
    plane,
    vlans: {
      red: {
        queriers: asker ? [{ on: 'asker', address: '10.0.0.1' }] : QUERIERS_4,
        mld: asker ? { ...mld, queriers: [{ on: 'asker', address: 'fe80::1' }] } : mld,
      },
    },
    switches: ['left', 'core', 'right'],
    links: [{ between: ['left', 'core'] }, { between: ['core', 'right'] }],
    hosts: [...(asker ? [hostAt('asker', 'core', 1)] : []), ...hosts],
    ...(each === undefined ? {} : { each }),
  };
}

const CAM_1 = hostAt('cam-1', 'left', 2, { sends: [GROUP] });
const CAM_2 = hostAt('cam-2', 'core', 3, { sends: [GROUP] });
const SPARE = hostAt('spare', 'right', 9);
const MONITOR = hostAt('monitor', 'right', 4, { receives: [{ group: GROUP }] });
const TAKES_FIRST = hostAt('monitor', 'right', 4, { receives: [{ takes: `cam-1/${GROUP}`, join: 'stated' }] });
const RECORDER = hostAt('recorder', 'left', 5, { receives: [{ group: GROUP }] });
const KEY_1 = `cam-1/${GROUP}`;
const KEY_2 = `cam-2/${GROUP}`;
const ONE_WAY = ['core>right', 'left>core'];
const EVERYWHERE: Picture = { [KEY_1]: { hosts: ['monitor', 'spare'], links: ONE_WAY } };
const DROP = {
  left: { unregistered: 'drop' },
  core: { unregistered: 'drop' },
  right: { unregistered: 'drop' },
} as const;

export const MLD: readonly Case[] = [
  {
    title: 'MLD, joined by group: to the member and to nobody else',
    rig: row([CAM_1, MONITOR, SPARE], { queriers: QUERIERS_6 }),
    stages: [{ kernel: { [KEY_1]: { hosts: ['monitor'], links: ONE_WAY } } }],
  },
  {
    title: 'MLDv2, joined by group and source: the other sender of the group does not come',
    rig: row([CAM_1, CAM_2, TAKES_FIRST, RECORDER, SPARE], { queriers: QUERIERS_6 }),
    stages: [
      {
        kernel: {
          [KEY_1]: { hosts: ['monitor', 'recorder'], links: ONE_WAY },
          [KEY_2]: { hosts: ['recorder'], links: ['core>left'] },
        },
      },
    ],
  },
  {
    title: 'MLDv1, joined by group and source: source filters are lost, those of IPv4 are not',
    rig: row([CAM_1, CAM_2, TAKES_FIRST, RECORDER, SPARE], { version: 1, queriers: QUERIERS_6 }),
    stages: [
      {
        kernel: {
          [KEY_1]: { hosts: ['monitor', 'recorder'], links: ONE_WAY },
          [KEY_2]: { hosts: ['monitor', 'recorder'], links: ['core>left', 'core>right'] },
        },
      },
    ],
  },
  {
    title: 'an IGMP querier and none of MLD: IPv6 groups are flooded',
    rig: row([CAM_1, MONITOR, SPARE], {}),
    stages: [{ kernel: EVERYWHERE }],
  },
  {
    title: 'two bridges query: MLD too elects the lower address (RFC 3810 §7.6.2)',
    rig: {
      ...row([hostAt('cam-1', 'core', 2, { sends: [GROUP] }), SPARE], {
        queriers: [
          { on: 'left', address: 'fe80::fa1' },
          { on: 'right', address: 'fe80::fa2' },
        ],
      }),
      vlans: {
        red: {
          queriers: [
            { on: 'left', address: '10.0.250.2' },
            { on: 'right', address: '10.0.250.1' },
          ],
          mld: {
            queriers: [
              { on: 'left', address: 'fe80::fa1' },
              { on: 'right', address: 'fe80::fa2' },
            ],
          },
        },
      },
    },
    stages: [{ kernel: { [KEY_1]: { hosts: [], links: ['core>left'] } } }],
  },
  {
    title: 'ff02::1 goes everywhere, no other group of that scope does, whatever multicast MAC it has (RFC 4541 §3)',
    rig: row(
      [hostAt('cam-1', 'left', 2, { sends: ['ff02::1', 'ff02::101', 'ff15::1', 'ff15::2:1'] }), MONITOR, SPARE],
      { queriers: QUERIERS_6 },
    ),
    stages: [
      {
        kernel: {
          'cam-1/ff02::1': { hosts: ['monitor', 'spare'], links: ONE_WAY },
          'cam-1/ff02::101': { hosts: [], links: ['left>core'] },
          'cam-1/ff15::1': { hosts: [], links: ['left>core'] },
          'cam-1/ff15::2:1': { hosts: [], links: ['left>core'] },
        },
      },
    ],
  },
  {
    title: 'Open vSwitch, MLD: to the member and the querier',
    rig: row([CAM_1, MONITOR, SPARE], {}, 'openvswitch', DROP),
    stages: [{ kernel: { [KEY_1]: { hosts: ['asker', 'monitor'], links: ONE_WAY } } }],
  },
  {
    title: 'Open vSwitch, MLD: switches that never saw the report flood',
    rig: row(
      [
        hostAt('cam-1', 'left', 2, { sends: [GROUP] }),
        hostAt('monitor', 'core', 4, { receives: [{ group: GROUP }] }),
        SPARE,
        hostAt('near', 'left', 6),
      ],
      {},
      'openvswitch',
    ),
    stages: [{ kernel: { [KEY_1]: { hosts: ['asker', 'monitor', 'near'], links: ['left>core'] } } }],
  },
  {
    title: 'Open vSwitch: ff02::1 everywhere, ff02::101 to the querier',
    rig: row(
      [hostAt('cam-1', 'left', 2, { sends: ['ff02::1', 'ff02::101'] }), MONITOR, SPARE],
      {},
      'openvswitch',
      DROP,
    ),
    stages: [
      {
        kernel: {
          'cam-1/ff02::1': { hosts: ['asker', 'monitor', 'spare'], links: ONE_WAY },
          'cam-1/ff02::101': { hosts: ['asker'], links: ['left>core'] },
        },
      },
    ],
  },
];
