/**
 * Rigs made by hand, each with what a Linux kernel does with it, written out, and whether the model says the same.
 *
 * Longer than a file should be: one list of hand-made rigs, each a few lines.
 */
import type { Extras } from './spec.js';
import type { ShortHost, ShortRig, ShortVlan } from './rigs.js';
import type { Picture } from './twin.js';

export interface Case {
  readonly title: string;
  readonly rig: ShortRig;
  readonly extras?: Extras;
  /** Each time the senders send. */
  readonly stages: readonly Stage[];
}

export interface Stage {
  readonly kernel: Picture;
  /** Rig whose model must agree; absent: the case's own. `differs` where a plan has no words for what the kernel does. */
  readonly model?: ShortRig | 'differs';
}

/** Three switches in a row, `left`, `core` and `right`. */
function row(vlan: ShortVlan, hosts: readonly ShortHost[]): ShortRig {
  return {
    vlans: { red: vlan },
    switches: ['left', 'core', 'right'],
    links: [{ between: ['left', 'core'] }, { between: ['core', 'right'] }],
    hosts,
  };
}

function one(vlan: ShortVlan, hosts: readonly ShortHost[]): ShortRig {
  return { vlans: { red: vlan }, switches: ['core'], links: [], hosts };
}

const AT_CORE = [{ on: 'core', address: '10.0.250.1' }] as const;
const AT_RIGHT = [{ on: 'right', address: '10.0.250.1' }] as const;

const CAM_1 = { name: 'cam-1', at: 'left', address: '10.0.0.1', sends: ['239.1.1.1'] } as const;
const CAM_2 = { name: 'cam-2', at: 'core', address: '10.0.0.2', sends: ['239.1.1.1'] } as const;
const SPARE = { name: 'spare', at: 'right', address: '10.0.0.9' } as const;
const MONITOR = { name: 'monitor', at: 'right', address: '10.0.0.3' } as const;
const RECORDER = { name: 'recorder', at: 'left', address: '10.0.0.4' } as const;

const TAKES_FIRST = { ...MONITOR, receives: [{ takes: 'cam-1/239.1.1.1', join: 'stated' }] } as const;
const TAKES_ANY = { ...RECORDER, receives: [{ group: '239.1.1.1' }] } as const;
const BOUND = { ...MONITOR, at: 'core', bound: ['239.1.1.1'] } as const;
const TWO_SENDERS = [CAM_1, CAM_2, TAKES_FIRST, TAKES_ANY, SPARE] as const;

/** Both senders to both receivers: nobody can ask for one source. */
const ALL_SOURCES: Picture = {
  'cam-1/239.1.1.1': { hosts: ['monitor', 'recorder'], links: ['core>right', 'left>core'] },
  'cam-2/239.1.1.1': { hosts: ['monitor', 'recorder'], links: ['core>left', 'core>right'] },
};

const EVERYWHERE: Picture = { 'cam-1/239.1.1.1': { hosts: ['monitor', 'spare'], links: ['core>right', 'left>core'] } };
const NOWHERE = { hosts: [], links: [] } as const;
const JOINED_BY_GROUP = { ...MONITOR, receives: [{ group: '239.1.1.1' }] } as const;

const joins = joinCases();
const routerPorts = routerPortCases();
const queriers = querierCases();
const floods = floodCases();
const leaves = leaveCases();

export const CASES: readonly Case[] = [...joins, ...routerPorts, ...queriers, ...floods, ...leaves];

function joinCases(): readonly Case[] {
  return [
    {
      title: 'a group bound to a port goes there and nowhere else, asked for or not, while a querier is heard',
      rig: one({ queriers: AT_CORE }, [
        { ...CAM_2, sends: ['239.1.1.1', '239.1.1.2'] },
        BOUND,
        { ...SPARE, at: 'core' },
      ]),
      stages: [{ kernel: { 'cam-2/239.1.1.1': { hosts: ['monitor'], links: [] }, 'cam-2/239.1.1.2': NOWHERE } }],
    },
    {
      title: 'a group bound to a port is flooded like any other while no querier is heard',
      rig: one({}, [CAM_2, BOUND, { ...SPARE, at: 'core' }]),
      stages: [{ kernel: { 'cam-2/239.1.1.1': { hosts: ['monitor', 'spare'], links: [] } } }],
    },
    {
      title: 'joined by group: to the member and to nobody else',
      rig: row({ queriers: AT_CORE }, [CAM_1, JOINED_BY_GROUP, SPARE]),
      stages: [{ kernel: { 'cam-1/239.1.1.1': { hosts: ['monitor'], links: ['core>right', 'left>core'] } } }],
    },
    {
      title: 'joined by group and source with IGMPv3: the other sender of the group does not come',
      rig: row({ queriers: AT_CORE }, TWO_SENDERS),
      stages: [
        {
          kernel: {
            'cam-1/239.1.1.1': { hosts: ['monitor', 'recorder'], links: ['core>right', 'left>core'] },
            'cam-2/239.1.1.1': { hosts: ['recorder'], links: ['core>left'] },
          },
        },
      ],
    },
    {
      title: 'joined by group and source with IGMPv2: source filters are lost',
      rig: row({ version: 2, queriers: AT_CORE }, TWO_SENDERS),
      stages: [{ kernel: ALL_SOURCES }],
    },
    {
      title: 'one querier of version 2 with the lowest address: source filters are lost on IGMPv3 switches too',
      rig: row({ version: 2, queriers: [...AT_CORE, { on: 'old-querier', address: '10.0.0.7' }] }, [
        ...TWO_SENDERS,
        { name: 'old-querier', at: 'core', address: '10.0.0.7' },
      ]),
      // A host that still repeats its reports with sources when it falls back can leave a source blocked for good.
      extras: { bridgeVersion: 3, joinAfterS: 2.5 },
      stages: [
        {
          kernel: {
            'cam-1/239.1.1.1': { hosts: ['monitor', 'old-querier', 'recorder'], links: ['core>right', 'left>core'] },
            'cam-2/239.1.1.1': { hosts: ['monitor', 'old-querier', 'recorder'], links: ['core>left', 'core>right'] },
          },
        },
      ],
    },
    {
      title: 'one receiver of version 2: it gets any source, whatever its program asked for; others keep their filters',
      rig: row({ queriers: AT_CORE }, TWO_SENDERS),
      extras: { hostVersions: { monitor: 2 } },
      stages: [
        { kernel: ALL_SOURCES, model: row({ queriers: AT_CORE }, [CAM_1, CAM_2, JOINED_BY_GROUP, TAKES_ANY, SPARE]) },
      ],
    },
    {
      title: 'groups of one multicast MAC are told apart',
      rig: one({ queriers: AT_CORE }, [
        { ...CAM_1, at: 'core', sends: ['239.1.1.1', '239.129.1.1'] },
        { ...MONITOR, at: 'core', receives: [{ group: '239.129.1.1' }] },
      ]),
      stages: [{ kernel: { 'cam-1/239.1.1.1': NOWHERE, 'cam-1/239.129.1.1': { hosts: ['monitor'], links: [] } } }],
    },
  ];
}

function routerPortCases(): readonly Case[] {
  const hosts = [
    { ...CAM_1, sends: ['239.1.1.1', '239.1.1.2'] },
    { ...RECORDER, receives: [{ group: '239.1.1.1' }] },
    SPARE,
  ];
  const towardsRight = ['core>right', 'left>core'];
  return [
    {
      title: 'over three switches to the one that queries, joined or not',
      rig: row({ queriers: AT_RIGHT }, hosts),
      stages: [
        {
          kernel: {
            'cam-1/239.1.1.1': { hosts: ['recorder'], links: towardsRight },
            'cam-1/239.1.1.2': { hosts: [], links: towardsRight },
          },
        },
      ],
    },
    {
      title: 'to the port of a device that queries, joined or not',
      rig: row({ queriers: [{ on: 'asker', address: '10.0.0.8' }] }, [
        ...hosts,
        { name: 'asker', at: 'right', address: '10.0.0.8' },
      ]),
      stages: [
        {
          kernel: {
            'cam-1/239.1.1.1': { hosts: ['asker', 'recorder'], links: towardsRight },
            'cam-1/239.1.1.2': { hosts: ['asker'], links: towardsRight },
          },
        },
      ],
    },
    {
      title: 'to the port of a PIM router, and to the querier, which is another',
      rig: row({ queriers: [{ on: 'left', address: '10.0.0.200' }], routers: ['router'] }, [
        { ...CAM_1, at: 'core' },
        SPARE,
        { name: 'router', at: 'right', address: '10.0.250.8' },
      ]),
      stages: [{ kernel: { 'cam-1/239.1.1.1': { hosts: ['router'], links: ['core>left', 'core>right'] } } }],
    },
    {
      title: 'not back to the port it came from, though that joined or queries',
      rig: one({ queriers: [{ on: 'cam-1', address: '10.0.0.1' }] }, [
        { ...CAM_1, at: 'core', receives: [{ group: '239.1.1.1' }] },
        { ...SPARE, at: 'core' },
      ]),
      stages: [{ kernel: { 'cam-1/239.1.1.1': NOWHERE } }],
    },
  ];
}

function querierCases(): readonly Case[] {
  const watched = [{ ...CAM_1, at: 'core' }, SPARE];
  const both = [
    { on: 'left', address: '10.0.250.1' },
    { on: 'right', address: '10.0.250.2' },
  ];
  const toLeft: Picture = { 'cam-1/239.1.1.1': { hosts: [], links: ['core>left'] } };
  const toRight: Picture = { 'cam-1/239.1.1.1': { hosts: [], links: ['core>right'] } };
  const silent = row({ queriers: [{ on: 'asker', address: '10.0.0.8' }] }, [
    CAM_1,
    JOINED_BY_GROUP,
    { name: 'asker', at: 'left', address: '10.0.0.8' },
  ]);
  return [
    {
      title:
        'two bridges query: the lower address wins; when it falls silent the other takes over, and keeps on when it returns',
      rig: row({ queriers: both }, watched),
      extras: {
        then: [
          { do: 'bridge', switch: 'left', name: 'br0', options: 'mcast_querier 0' },
          { do: 'wait', seconds: 5 },
          { do: 'send' },
          { do: 'bridge', switch: 'left', name: 'br0', options: 'mcast_querier 1' },
          { do: 'wait', seconds: 5 },
          { do: 'send' },
        ],
      },
      // The last: RFC 3376 §6.6.2 would have the lower address win again; a Linux bridge that hears a querier stays silent.
      stages: [
        { kernel: toLeft },
        { kernel: toRight, model: row({ queriers: both.slice(1) }, watched) },
        { kernel: toRight, model: 'differs' },
      ],
    },
    {
      title: 'no querier: flooded, though members joined',
      rig: row({}, [CAM_1, JOINED_BY_GROUP, SPARE]),
      stages: [{ kernel: EVERYWHERE }],
    },
    {
      title: 'the querier falls silent: flooded after the other querier present interval, not pruned',
      rig: silent,
      extras: { then: [{ do: 'silence', host: 'asker' }, { do: 'wait', seconds: 5 }, { do: 'send' }] },
      stages: [
        { kernel: { 'cam-1/239.1.1.1': { hosts: ['asker', 'monitor'], links: ['core>right', 'left>core'] } } },
        {
          kernel: { 'cam-1/239.1.1.1': { hosts: ['asker', 'monitor'], links: ['core>right', 'left>core'] } },
          model: { ...silent, vlans: { red: {} } },
        },
      ],
    },
    {
      // RFC 4541 §2.1.1 (1b) would have it make no router ports.
      title: 'a querier without an address makes router ports all the same: joins cross switches',
      rig: row({ queriers: [{ on: 'core', address: '0.0.0.0' }] }, [CAM_1, JOINED_BY_GROUP, TAKES_ANY, SPARE]),
      stages: [
        {
          kernel: { 'cam-1/239.1.1.1': { hosts: ['monitor', 'recorder'], links: ['core>right', 'left>core'] } },
          model: 'differs',
        },
      ],
    },
  ];
}

function floodCases(): readonly Case[] {
  const unjoined = row({ queriers: AT_CORE }, [CAM_1, MONITOR, SPARE]);
  const local = row({ queriers: AT_CORE }, [{ ...CAM_1, sends: ['224.0.0.200', '239.128.0.9'] }, MONITOR, SPARE]);
  const groups = ['239.1.1.1', '239.1.1.2', '239.1.1.3', '239.1.1.4', '239.1.1.5', '239.1.1.6'];
  const tables = (groupTableSize: number, snooping: boolean): ShortRig => ({
    ...one(snooping ? { queriers: AT_CORE } : { snooping }, [
      { ...CAM_1, at: 'core', sends: groups },
      { ...MONITOR, at: 'core', receives: groups.map((group) => ({ group })) },
      { ...SPARE, at: 'core' },
    ]),
    groupTableSize,
  });
  const toAll = (hosts: readonly string[]): Picture =>
    Object.fromEntries(groups.map((group) => [`cam-1/${group}`, { hosts, links: [] }]));
  return [
    {
      title: 'joined by nobody: to the querier and no further',
      rig: unjoined,
      stages: [{ kernel: { 'cam-1/239.1.1.1': { hosts: [], links: ['left>core'] } } }],
    },
    {
      title: 'joined by nobody, ports set not to flood multicast: the same, since nothing was flooded',
      rig: unjoined,
      extras: { portOptions: 'mcast_flood off' },
      stages: [{ kernel: { 'cam-1/239.1.1.1': { hosts: [], links: ['left>core'] } } }],
    },
    {
      title: 'no querier, ports set not to flood multicast: nothing comes through, joined or not',
      rig: row({}, [CAM_1, JOINED_BY_GROUP, SPARE]),
      extras: { portOptions: 'mcast_flood off' },
      stages: [{ kernel: { 'cam-1/239.1.1.1': NOWHERE }, model: 'differs' }],
    },
    {
      title: '224.0.0.x everywhere; a group of the same multicast MACs not',
      rig: local,
      stages: [
        {
          kernel: {
            'cam-1/224.0.0.200': { hosts: ['monitor', 'spare'], links: ['core>right', 'left>core'] },
            'cam-1/239.128.0.9': { hosts: [], links: ['left>core'] },
          },
        },
      ],
    },
    {
      // RFC 4541 §2.1.2 (2) has no exception.
      title: '224.0.0.x, ports set not to flood multicast: lost as well',
      rig: local,
      extras: { portOptions: 'mcast_flood off' },
      stages: [
        {
          kernel: { 'cam-1/224.0.0.200': NOWHERE, 'cam-1/239.128.0.9': { hosts: [], links: ['left>core'] } },
          model: 'differs',
        },
      ],
    },
    {
      title: 'snooping off: everywhere',
      rig: row({ snooping: false }, [CAM_1, JOINED_BY_GROUP, SPARE]),
      stages: [{ kernel: EVERYWHERE }],
    },
    {
      title: 'a table that holds all groups: to the member alone',
      rig: tables(16, true),
      stages: [{ kernel: toAll(['monitor']) }],
    },
    {
      title: 'a table that is full: snooping goes off, all groups go everywhere',
      rig: tables(4, true),
      stages: [{ kernel: toAll(['monitor', 'spare']), model: tables(4, false) }],
    },
  ];
}

function leaveCases(): readonly Case[] {
  const first = { ...MONITOR, at: 'core', receives: [{ group: '239.1.1.1' }] } as const;
  const second = { ...RECORDER, at: 'core', receives: [{ group: '239.1.1.1' }] } as const;
  const cam = { ...CAM_1, at: 'core' } as const;
  const leave: Extras = {
    then: [{ do: 'leave', host: 'monitor', group: '239.1.1.1' }, { do: 'wait', seconds: 3 }, { do: 'send' }],
  };
  const onBoth: Picture = { 'cam-1/239.1.1.1': { hosts: ['monitor', 'recorder'], links: [] } };
  const onOne: Picture = { 'cam-1/239.1.1.1': { hosts: ['recorder'], links: [] } };
  const twoPorts = (version: 2 | 3): Case => ({
    title: `fast leave with IGMPv${version}, a port each: the other receiver keeps the stream`,
    rig: one({ version, fastLeave: true, queriers: AT_CORE }, [cam, first, second]),
    extras: leave,
    stages: [
      { kernel: onBoth },
      {
        kernel: onOne,
        model: one({ version, fastLeave: true, queriers: AT_CORE }, [cam, { ...first, receives: [] }, second]),
      },
    ],
  });
  // Both receivers behind one port of the core, on a box that does not snoop. No query comes before the streams are sent again.
  const shared = (version: 2 | 3, fastLeave: boolean): ShortRig => ({
    vlans: { red: { version, fastLeave, queryInterval: 30, queriers: AT_CORE } },
    switches: ['core', 'box'],
    links: [{ between: ['core', 'box'] }],
    hosts: [cam, { ...first, at: 'box' }, { ...second, at: 'box' }],
  });
  const leaveAloud: Extras = {
    then: [
      { do: 'leave', host: 'monitor', group: '239.1.1.1', aloud: true },
      { do: 'wait', seconds: 1 },
      { do: 'send' },
    ],
  };
  // IGMPv2 hosts repeat their reports for up to ten seconds after they joined (RFC 2236 §3).
  const extrasOf = (version: 2 | 3): Extras => ({
    ...(version === 2 ? leaveAloud : leave),
    unmanaged: ['box'],
    settleS: version === 2 ? 12 : 4,
  });
  const onPort: Picture = { 'cam-1/239.1.1.1': { hosts: ['monitor', 'recorder'], links: ['core>box'] } };
  const sharedCase = (title: string, version: 2 | 3, fastLeave: boolean, after: Stage): Case => ({
    title,
    rig: shared(version, fastLeave),
    extras: extrasOf(version),
    stages: [{ kernel: onPort }, after],
  });
  return [
    twoPorts(2),
    twoPorts(3),
    // Both hosts see what is left: the box floods what comes to it.
    sharedCase(
      'one port for two receivers, IGMPv2: without fast leave the port is asked first and keeps the stream',
      2,
      false,
      { kernel: onPort },
    ),
    sharedCase('one port for two receivers, IGMPv2: fast leave cuts off the one that stays', 2, true, {
      kernel: { 'cam-1/239.1.1.1': NOWHERE },
      model: 'differs',
    }),
    sharedCase('one port for two receivers, IGMPv3: the bridge counts hosts, fast leave cuts off nobody', 3, true, {
      kernel: onPort,
    }),
  ];
}
