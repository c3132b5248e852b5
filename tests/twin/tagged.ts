/**
 * Rigs of tagged trunks made by hand, each with what Open vSwitch 3.1 does with it (userspace datapath, RFC 4541 §2.1),
 * written out, and whether the model says the same.
 */
import type { Case } from './cases.js';
import type { ShortHost, ShortLink, ShortRig, ShortVlan } from './rigs.js';

const GROUP = '239.1.1.1';

function hostAt(name: string, at: string, number: number, more: Partial<ShortHost> = {}): ShortHost {
  return { name, at, address: `10.0.0.${number}`, ...more };
}

/** Switches a, b and c in a row; the querier is a host, as no switch of this kind queries. */
function row(hosts: readonly ShortHost[], more: Partial<ShortRig> = {}): ShortRig {
  return {
    plane: 'openvswitch',
    vlans: { red: { queriers: [{ on: 'asker', address: '10.0.0.1' }] } },
    switches: ['a', 'b', 'c'],
    links: [{ between: ['a', 'b'] }, { between: ['b', 'c'] }],
    hosts: [hostAt('asker', 'a', 1), ...hosts],
    ...more,
  };
}

const all = (names: readonly string[], about: object): Readonly<Record<string, object>> =>
  Object.fromEntries(names.map((name) => [name, about]));
const DROP = all(['a', 'b', 'c'], { unregistered: 'drop' });

const CAM_C = hostAt('cam', 'c', 2, { sends: [GROUP] });
const CAM_A = hostAt('cam', 'a', 2, { sends: [GROUP] });
const CAM_B = hostAt('cam', 'b', 2, { sends: [GROUP] });
const JOINS = { receives: [{ group: GROUP }] } as const;
const IDLE_B = hostAt('idle-b', 'b', 4);
const IDLE_C = hostAt('idle-c', 'c', 5);

const KEY = `cam/${GROUP}`;
const AT_A = [CAM_C, hostAt('monitor', 'a', 3, JOINS), IDLE_B, IDLE_C];
const AT_C = [CAM_A, hostAt('monitor', 'c', 3, JOINS), IDLE_B, IDLE_C];
const NOBODY = [CAM_B, hostAt('idle-a', 'a', 3), IDLE_B, IDLE_C];
const UNASKED: ShortVlan = {};

export const TAGGED: readonly Case[] = [...registrationCases(), ...tagCases(), ...ringCases()];

function registrationCases(): readonly Case[] {
  return [
    {
      title: 'unregistered groups flooded: switches that never saw the report flood a joined one (V32)',
      rig: row(AT_A),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-b', 'idle-c', 'monitor'], links: ['b>a', 'c>b'] } } }],
    },
    {
      title: 'unregistered groups dropped: to the member and the querier (V33)',
      rig: row(AT_A, { each: DROP }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'monitor'], links: ['b>a', 'c>b'] } } }],
    },
    {
      title: 'the report passed every switch on its way: flooded nowhere (V34)',
      rig: row(AT_C),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'monitor'], links: ['a>b', 'b>c'] } } }],
    },
    {
      title: 'joined by nobody, flooded (V31)',
      rig: row(NOBODY),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-a', 'idle-b', 'idle-c'], links: ['b>a', 'b>c'] } } }],
    },
    {
      title: 'joined by nobody, dropped (V31)',
      rig: row(NOBODY, { each: DROP }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker'], links: ['b>a'] } } }],
    },
    {
      title: 'one switch floods what is not registered: its hosts get what passes it',
      rig: row(AT_A, { each: { ...DROP, b: { unregistered: 'flood' } } }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-b', 'monitor'], links: ['b>a', 'c>b'] } } }],
    },
    {
      title: 'no querier, unregistered dropped: nobody gets it once memberships are forgotten',
      rig: row(AT_C, { vlans: { red: UNASKED }, each: DROP }),
      stages: [{ kernel: { [KEY]: { hosts: [], links: [] } } }],
    },
    {
      title: 'no querier, unregistered flooded: everybody gets it',
      rig: row(AT_C, { vlans: { red: UNASKED } }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-b', 'idle-c', 'monitor'], links: ['a>b', 'b>c'] } } }],
    },
    {
      title: 'snooping off at the switch in the middle: its hosts get what passes it',
      rig: row(AT_C, { each: { ...DROP, b: { snooping: false } } }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-b', 'monitor'], links: ['a>b', 'b>c'] } } }],
    },
    {
      title: 'keyed by group: who asks for one source gets every sender of the group',
      rig: row(
        [
          CAM_A,
          hostAt('other', 'b', 6, { sends: [GROUP] }),
          hostAt('monitor', 'c', 3, { receives: [{ takes: KEY, join: 'stated' }] }),
        ],
        { each: DROP },
      ),
      stages: [
        {
          kernel: {
            [KEY]: { hosts: ['asker', 'monitor'], links: ['a>b', 'b>c'] },
            [`other/${GROUP}`]: { hosts: ['asker', 'monitor'], links: ['b>a', 'b>c'] },
          },
        },
      ],
    },
    {
      // RFC 4541 §2.1.1 has no such exception. Where what is not registered is dropped it shows nowhere.
      title: 'who queries has joined as well: no member is registered at a router port, so the group is flooded',
      rig: { ...row([]), hosts: [hostAt('asker', 'a', 1, JOINS), CAM_A, hostAt('idle-a', 'a', 4)] },
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'idle-a'], links: ['a>b', 'b>c'] } }, model: 'differs' }],
    },
    {
      title: 'the querier falls silent and nobody follows, unregistered dropped: dark when all is forgotten',
      rig: row(AT_C, { each: DROP }),
      extras: {
        then: [{ do: 'silence', host: 'asker' }, { do: 'wait', seconds: 0.5 }, { do: 'forget' }, { do: 'send' }],
      },
      stages: [
        { kernel: { [KEY]: { hosts: ['asker', 'monitor'], links: ['a>b', 'b>c'] } } },
        { kernel: { [KEY]: { hosts: [], links: [] } }, model: row(AT_C, { vlans: { red: UNASKED }, each: DROP }) },
      ],
    },
  ];
}

function tagCases(): readonly Case[] {
  const queriers = [{ on: 'asker', address: '10.0.0.1' }];
  const two = (links: readonly ShortLink[]): ShortRig =>
    row(
      [
        CAM_A,
        hostAt('monitor', 'c', 3, JOINS),
        hostAt('asker-blue', 'a', 7, { vlan: 'blue' }),
        hostAt('cam-blue', 'a', 8, { vlan: 'blue', sends: [GROUP] }),
        hostAt('monitor-blue', 'c', 9, { vlan: 'blue', ...JOINS }),
      ],
      {
        vlans: { red: { queriers }, blue: { queriers: [{ on: 'asker-blue', address: '10.0.0.7' }] } },
        links,
        each: DROP,
      },
    );
  const red = { hosts: ['asker', 'monitor'], links: ['a>b', 'b>c'] };
  const blue = { hosts: ['asker-blue', 'monitor-blue'], links: ['a>b', 'b>c'] };
  const cut = { hosts: ['asker-blue'], links: [] };
  return [
    {
      title: 'two VLANs on one trunk stay apart, though they use one group',
      rig: two([{ between: ['a', 'b'] }, { between: ['b', 'c'] }]),
      stages: [{ kernel: { [`cam-blue/${GROUP}`]: blue, [KEY]: red } }],
    },
    {
      title: 'a native VLAN travels without a tag and stays itself',
      rig: two([
        { between: ['a', 'b'], native: 'red' },
        { between: ['b', 'c'], native: 'blue' },
      ]),
      stages: [{ kernel: { [`cam-blue/${GROUP}`]: blue, [KEY]: red } }],
    },
    {
      title: 'a VLAN missing on a trunk is cut there, the other is not',
      rig: two([{ between: ['a', 'b'] }, { between: ['b', 'c'], vlans: ['red'] }]),
      stages: [{ kernel: { [`cam-blue/${GROUP}`]: cut, [KEY]: red } }],
    },
    {
      title: 'a VLAN missing at one end only: no query comes over, so nothing is sent towards it',
      rig: two([{ between: ['a', 'b'] }, { between: ['b', 'c'], farEnd: { vlans: ['red'] } }]),
      stages: [{ kernel: { [`cam-blue/${GROUP}`]: cut, [KEY]: red } }],
    },
    {
      title: 'unlike native VLANs: red leaves without a tag and arrives as blue',
      rig: row([CAM_A, hostAt('monitor', 'b', 3, { vlan: 'blue', ...JOINS })], {
        vlans: { red: { queriers }, blue: {} },
        switches: ['a', 'b'],
        links: [{ between: ['a', 'b'], vlans: ['red'], native: 'red', farEnd: { vlans: ['blue'], native: 'blue' } }],
        each: all(['a', 'b'], { unregistered: 'drop' }),
      }),
      stages: [{ kernel: { [KEY]: { hosts: ['asker', 'monitor'], links: ['a>b'] } } }],
    },
  ];
}

function tree(priority: number): object {
  return { spanningTree: { mode: 'rstp', priority } };
}

/** Rings of three: root a, by RSTP (IEEE 802.1D-2004 §17). */
function ringCases(): readonly Case[] {
  const ring = (hosts: readonly ShortHost[], links: readonly (readonly [string, string])[]): ShortRig =>
    row(hosts, {
      links: links.map((between) => ({ between })),
      each: { a: tree(4096), b: tree(8192), c: tree(12288) },
    });
  const whole = [
    ['a', 'b'],
    ['b', 'c'],
    ['a', 'c'],
  ] as const;
  const ends = [CAM_A, hostAt('monitor', 'c', 3, JOINS), IDLE_B];
  const direct = { [KEY]: { hosts: ['asker', 'monitor'], links: ['a>c'] } };
  const round = { [KEY]: { hosts: ['asker', 'monitor'], links: ['a>b', 'b>c'] } };
  const after = [{ do: 'wait', seconds: 1 }, { do: 'forget' }, { do: 'wait', seconds: 1.6 }, { do: 'send' }] as const;
  return [
    {
      title: 'a ring: the stream goes the direct way, and round when that is cut (V28)',
      rig: ring(ends, whole),
      extras: { then: [{ do: 'cut', link: 'a-c' }, ...after] },
      stages: [{ kernel: direct }, { kernel: round, model: ring(ends, whole.slice(0, 2)) }],
    },
    {
      title: 'a ring: the blocked link is cut, nothing changes (V30)',
      rig: ring(ends, whole),
      extras: { then: [{ do: 'cut', link: 'b-c' }, ...after] },
      stages: [{ kernel: direct }, { kernel: direct, model: ring(ends, [whole[0], whole[2]]) }],
    },
  ];
}
