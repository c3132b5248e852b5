/**
 * Plans that are large in one direction each, for benches and tests of growth: a chain of switches, one device with
 * everything, every row of a list alike. Not all are clean; what grows is the point. Longer than a file should be: one list.
 */
import type { Input } from '../../src/engine.js';

export interface Shape {
  readonly name: string;
  /** What the shape is about can't be read: no rule runs. */
  readonly unread?: true;
  /** Files of the plan with about `size` of what the shape is large in. */
  readonly make: (size: number) => readonly Input[];
}

type Raw = Readonly<Record<string, unknown>>;

const range = <T>(count: number, of: (index: number) => T): readonly T[] =>
  Array.from({ length: count }, (_, i) => of(i));
/** Ports from 1 on, as many as a plan may write in one name. */
const ranges = (count: number): readonly string[] =>
  range(Math.ceil(count / 2000), (index) => `${index * 2000 + 1}-${Math.min(count, (index + 1) * 2000)}`);
const octets = (index: number): string => `${(index >>> 8) & 255}.${index & 255}`;
const group = (index: number): string => `239.${16 + (index >>> 16)}.${octets(index)}`;
const host = (index: number): string => `10.${16 + (index >>> 16)}.${octets(index)}`;
const hex = (index: number): string =>
  [16, 8, 0].map((bits) => ((index >>> bits) & 255).toString(16).padStart(2, '0')).join(':');
const identity = (index: number): string => `00:00:00:ff:fe:${hex(index)}`;
const json = (plan: Raw): readonly Input[] => [{ name: 'plan.json', text: JSON.stringify({ rig: 'Shape', ...plan }) }];
const list = (rows: readonly string[], columns = 'name,group,port,source'): readonly Input[] => [
  { name: 'list.csv', text: `${columns}\n${rows.join('\n')}\n` },
];
const yaml = (first: string, devices: readonly string[]): readonly Input[] => [
  {
    name: 'plan.yaml',
    text: `rig: Shape\nvlans:\n  - ${first}{name: red, id: 10, subnet: 10.16.0.0/12}\ndevices:\n${devices.join('')}`,
  },
];
const media = (index: number): string =>
  `m=audio 5004 RTP/AVP 98\r\nc=IN IP4 ${group(index)}/32\r\na=rtpmap:98 L24/48000/2\r\na=ptime:1\r\n`;
const IGMP = { snooping: true, version: 3, querier: [{ on: 'sw-0', address: '10.16.0.1' }], unregistered: 'drop' };
const RED = { name: 'red', id: 10, subnet: '10.16.0.0/12', igmp: IGMP };
const STEREO = {
  name: 'stereo',
  coding: 'st2110-30',
  channels: 2,
  sampleRate: 48000,
  sampleBits: 24,
  packetTime: '1 ms',
};

const stream = (name: string, to: string, more: Raw = {}): Raw => ({
  name,
  format: 'stereo',
  legs: [{ interface: 'red', group: to, port: 5004 }],
  ...more,
});

/** A device that sends one stream, patched to a port; `via` and `sends` replace facts of its interface and stream. */
const sender = (index: number, port: string, via: Raw = {}, sends: Raw = {}): Raw => ({
  name: `tx-${index}`,
  interfaces: [{ name: 'red', vlan: 'red', address: `${host(index + 16)}/12`, port, ...via }],
  senders: [stream('sound', group(index), sends)],
});
const receiver = (index: number, port: string, from = index): Raw => ({
  name: `rx-${index}`,
  interfaces: [{ name: 'red', vlan: 'red', address: `${host(index + 0x80000)}/12`, port }],
  receivers: [{ name: 'in', takes: `tx-${from}/sound` }],
});

/** Switches joined as `pairs` says, a sender at each and a receiver of its stream at the next. */
function joined(count: number, pairs: readonly (readonly [number, number])[], more: Raw = {}): Raw {
  const ports = range(count, (): Raw[] => [
    { name: 'tx', access: 'red', rate: '10G' },
    { name: 'rx', access: 'red', rate: '10G' },
  ]);
  pairs.forEach(([a, b], index) => {
    for (const end of [a, b]) ports[end]?.push({ name: `t${index}`, trunk: ['red'], rate: '100G' });
  });
  return {
    vlans: [RED],
    formats: [STEREO],
    switches: ports.map((own, index) => ({ name: `sw-${index}`, snoopingKey: 'group', ports: own })),
    links: pairs.map(([a, b], index) => ({ ends: [`sw-${a}/t${index}`, `sw-${b}/t${index}`], rate: '100G' })),
    devices: range(count, (index) => [
      sender(index, `sw-${index}/tx`),
      receiver(index, `sw-${(index + 1) % count}/rx`, index),
    ]).flat(),
    ...more,
  };
}

export const chain = (count: number): readonly (readonly [number, number])[] =>
  range(Math.max(0, count - 1), (index) => [index, index + 1] as const);

const star = (count: number): readonly (readonly [number, number])[] =>
  range(count - 1, (index) => [0, index + 1] as const);

/** So many rows of as many. */
const grid = (width: number): readonly (readonly [number, number])[] =>
  range(width * width, (i) => [
    ...(i % width < width - 1 ? [[i, i + 1] as const] : []),
    ...(i + width < width * width ? [[i, i + width] as const] : []),
  ]).flat();

/** Switches and links as `pairs` says, every switch a boundary clock with a follower, the first with the grandmaster. */
export function boundaries(count: number, pairs: readonly (readonly [number, number])[]): Raw {
  const plan = joined(count, pairs);
  return {
    ...plan,
    switches: (plan['switches'] as readonly Raw[]).map((one, index) => ({
      ...one,
      ptp: { domain: 127, mode: 'boundary', clockIdentity: identity(index + 1) },
    })),
    devices: [
      GRANDMASTER('sw-0/tx'),
      ...range(count - 1, (index) => follower(index, `sw-${index + 1}/rx`, 0x10000 + index)),
    ],
    ...PTP,
  };
}

/** Two switches with so many links between them. */
function bundle(count: number, link: Raw): Raw {
  const ports = [
    { name: 'tx', access: 'red', rate: '10G' },
    { name: 'rx', access: 'red', rate: '10G' },
    ...ranges(count).map((name) => ({ name, trunk: ['red'], rate: '10G' })),
  ];
  return {
    ...joined(2, []),
    switches: range(2, (index) => ({ name: `sw-${index}`, snoopingKey: 'group', ports })),
    links: range(count, (index) => ({ ends: [`sw-0/${index + 1}`, `sw-1/${index + 1}`], rate: '10G', ...link })),
  };
}

const vlans = (count: number, of: (index: number) => Raw): readonly Raw[] =>
  range(count, (index) => ({ name: `v-${index}`, id: (index % 4000) + 2, ...of(index) }));

/** Senders on one switch, each as `of` says. */
const senders = (count: number, of: (index: number) => Raw): readonly Input[] => json(onOne(range(count, of)));

/** Everything on one switch. */
const onOne = (devices: readonly Raw[], more: Raw = {}): Raw => ({
  vlans: [RED],
  formats: [STEREO],
  switches: [
    {
      name: 'sw-0',
      snoopingKey: 'group',
      ports: ranges(2 * devices.length + 2).map((name) => ({ name, access: 'red', rate: '10G' })),
    },
  ],
  devices,
  ...more,
});

const clock = (name: string, port: string, ptp: Raw): Raw => ({
  name,
  interfaces: [{ name: 'p0', vlan: 'red', port }],
  ptp: { domain: 127, ...ptp },
});
const GRANDMASTER = (port: string): Raw =>
  clock('gm', port, { grandmaster: true, clockClass: 6, priority1: 1, clockIdentity: identity(0) });
const follower = (index: number, port: string, own: number): Raw =>
  clock(`end-${index}`, port, { slaveOnly: true, clockIdentity: identity(own) });
const PTP = { timing: { domains: [{ name: 'media', number: 127, grandmasters: ['gm'] }] } };

const footIn = (vlan: number): Raw => ({
  name: 'a',
  vlan: `v-${vlan}`,
  address: `${host(vlan * 16 + 2)}/28`,
  port: `sw-0/p${vlan}`,
});

const LOOK_ALIKE = 'O0oIl1';

export const SHAPES: readonly Shape[] = [
  {
    name: 'pairs on one switch',
    make: (n) =>
      json(onOne(range(n, (i) => [sender(i, `sw-0/${2 * i + 1}`), receiver(i, `sw-0/${2 * i + 2}`)]).flat())),
  },
  { name: 'a chain of switches', make: (n) => json(joined(n, chain(n))) },
  { name: 'a ring of switches', make: (n) => json(joined(n, [...chain(n), [n - 1, 0]])) },
  { name: 'a star of switches', make: (n) => json(joined(n, star(n))) },
  {
    name: 'a ladder of switches',
    make: (n) =>
      json(
        joined(n, [
          ...range(Math.max(0, n - 2), (i) => [i, i + 2] as const),
          ...range(Math.floor(n / 2), (i) => [2 * i, 2 * i + 1] as const),
        ]),
      ),
  },
  {
    name: 'a grid of switches',
    make: (n) => {
      const w = Math.max(2, Math.round(Math.sqrt(n)));
      return json(joined(w * w, grid(w)));
    },
  },
  { name: 'a chain of boundary clocks', make: (n) => json(boundaries(n, chain(n))) },
  { name: 'a star of boundary clocks', make: (n) => json(boundaries(n, star(n))) },
  {
    name: 'a grid of boundary clocks',
    make: (n) => {
      const w = Math.max(2, Math.round(Math.sqrt(n)));
      return json(boundaries(w * w, grid(w)));
    },
  },
  {
    name: 'clocks in one VLAN',
    make: (n) => json(onOne([GRANDMASTER('sw-0/1'), ...range(n, (i) => follower(i, `sw-0/${i + 2}`, i + 1))], PTP)),
  },
  {
    name: 'one device with all streams',
    make: (n) =>
      json(
        onOne(
          range(2, (one) => ({
            name: `tx-${one}`,
            interfaces: [{ name: 'red', vlan: 'red', address: `10.16.0.${20 + one}/12`, port: `sw-0/${one + 1}` }],
            senders: range(n, (i) => stream(`s-${i}`, group(i + one * n))),
            receivers: range(n, (i) => ({ name: `r-${i}`, takes: `tx-${1 - one}/s-${i}` })),
          })),
        ),
      ),
  },
  {
    name: 'one stream to all',
    make: (n) => json(onOne([sender(0, 'sw-0/1'), ...range(n, (i) => receiver(i, `sw-0/${i + 2}`, 0))])),
  },
  {
    name: 'all streams to one',
    make: (n) =>
      json(
        onOne([
          ...range(n, (i) => sender(i, `sw-0/${i + 2}`)),
          {
            name: 'rx',
            interfaces: [{ name: 'red', vlan: 'red', address: '10.24.0.1/12', port: 'sw-0/1' }],
            receivers: range(n, (i) => ({ name: `in-${i}`, takes: `tx-${i}/sound` })),
          },
        ]),
      ),
  },
  {
    name: 'one group for all',
    make: (n) => senders(n, (i) => sender(i, `sw-0/${i + 1}`, {}, stream('sound', '239.16.0.1'))),
  },
  {
    name: 'one address for all',
    make: (n) => senders(n, (i) => sender(i, `sw-0/${i + 1}`, { address: '10.16.0.20/12' })),
  },
  { name: 'one port for all', make: (n) => senders(n, (i) => sender(i, 'sw-0/1')) },
  { name: 'one MAC for all', make: (n) => senders(n, (i) => sender(i, `sw-0/${i + 1}`, { mac: '02:00:5e:10:00:01' })) },
  { name: 'one name for all', make: (n) => senders(n, (i) => ({ ...sender(i, `sw-0/${i + 1}`), name: 'tx' })) },
  {
    name: 'groups of one multicast MAC',
    make: (n) =>
      senders(n, (i) =>
        sender(i, `sw-0/${i + 1}`, {}, stream('sound', `${225 + (i % 14)}.${(i >> 4) % 2 === 0 ? 1 : 129}.0.1`)),
      ),
  },
  {
    name: 'names that look alike',
    make: (n) =>
      senders(n, (i) => ({
        ...sender(i, `sw-0/${i + 1}`),
        name: `camera-${range(6, (k) => LOOK_ALIKE[(i >> (k * 2)) % 6]).join('')}-${i}`,
      })),
  },
  {
    name: 'unknown references',
    make: (n) => senders(n, (i) => ({ name: `rx-${i}`, receivers: [{ name: 'in', takes: `nobody-${i}/sound` }] })),
  },
  { name: 'unknown ports', make: (n) => senders(n, (i) => sender(i, `sw-0/x${i}`)) },
  {
    name: 'unknown VLANs',
    make: (n) =>
      senders(n, (i) => ({
        name: `tx-${i}`,
        interfaces: [{ name: 'a', vlan: `lost-${i}`, address: `${host(i + 16)}/12` }],
      })),
  },
  { name: 'VLANs', make: (n) => json({ vlans: vlans(n, (i) => ({ subnet: `${host(i * 4)}/30` })) }) },
  {
    name: 'subnets within one another',
    make: (n) => json({ vlans: vlans(n, (i) => ({ subnet: `${host((i * 256) & 0xfff00)}/${8 + (i % 17)}` })) }),
  },
  {
    name: 'DHCP ranges across one another',
    make: (n) => json({ vlans: vlans(n, (i) => ({ subnet: '10.16.0.0/12', dhcp: `${host(i)}-${host(i + 1000)}` })) }),
  },
  {
    name: 'networks',
    make: (n) =>
      json({
        networks: range(n, (i) => ({ name: `n-${i}`, role: 'media' })),
        vlans: vlans(n, (i) => ({ network: `n-${i}`, subnet: `${host(i * 4)}/30` })),
      }),
  },
  {
    name: 'kinds',
    make: (n) =>
      json({
        ...onOne(
          range(n, (i) => ({
            name: `tx-${i}`,
            kind: `k-${i}`,
            interfaces: [{ name: 'red', vlan: 'red', address: `${host(i + 16)}/12`, port: `sw-0/${i + 1}` }],
          })),
        ),
        kinds: range(n, (i) => ({ name: `k-${i}`, interfaces: [{ name: 'red', rate: '10G' }] })),
      }),
  },
  {
    name: 'formats',
    make: (n) =>
      json({
        ...onOne(range(n, (i) => sender(i, `sw-0/${i + 1}`, {}, { format: `f-${i}` }))),
        formats: range(n, (i) => ({ ...STEREO, name: `f-${i}` })),
      }),
  },
  { name: 'members of one aggregate', make: (n) => json(bundle(n, { aggregate: 'big' })) },
  { name: 'parallel links', make: (n) => json(bundle(n, {})) },
  {
    name: 'risks on links',
    make: (n) =>
      json(
        joined(n, chain(n), {
          links: chain(n).map(([a, b], i) => ({
            ends: [`sw-${a}/t${i}`, `sw-${b}/t${i}`],
            rate: '100G',
            risks: [`duct-${i}`],
          })),
        }),
      ),
  },
  {
    name: 'power feeds',
    make: (n) => {
      const plan = joined(n, chain(n));
      return json({
        ...plan,
        switches: (plan['switches'] as readonly Raw[]).map((one, i) => ({ ...one, power: [`feed-${i}`] })),
      });
    },
  },
  {
    name: 'waivers',
    make: (n) =>
      json({
        ...onOne(range(8, (i) => sender(i, `sw-0/${i + 1}`))),
        waivers: range(n, (i) => ({ rule: 'groups/two-senders', subject: `239.16.0.${i}`, reason: 'known' })),
      }),
  },
  {
    name: 'flooded streams',
    make: (n) => json(joined(n, chain(n), { vlans: [{ ...RED, igmp: { ...IGMP, snooping: false } }] })),
  },
  {
    name: 'without a querier',
    make: (n) =>
      json(joined(n, chain(n), { vlans: [{ ...RED, igmp: { snooping: true, version: 3, unregistered: 'drop' } }] })),
  },
  {
    name: 'pairs of VLANs behind a router',
    make: (n) =>
      json({
        vlans: vlans(2 * n, (i) => ({
          subnet: `${host(i * 16)}/28`,
          gateway: host(i * 16 + 1),
          igmp: { ...IGMP, querier: [{ on: 'sw-0', address: host(i * 16 + 1) }] },
          routing: { mode: 'pim-ssm', routers: ['sw-0'] },
        })),
        formats: [STEREO],
        switches: [
          {
            name: 'sw-0',
            snoopingKey: 'source-group',
            addresses: range(2 * n, (i) => ({ vlan: `v-${i}`, address: `${host(i * 16 + 1)}/28` })),
            ports: range(2 * n, (i) => ({ name: `p${i}`, access: `v-${i}`, rate: '10G' })),
          },
        ],
        devices: range(n, (i) => [
          {
            name: `tx-${i}`,
            interfaces: [footIn(2 * i)],
            senders: [
              {
                name: 'sound',
                format: 'stereo',
                legs: [{ interface: 'a', group: `232.${((i >>> 16) & 255) + 1}.${octets(i)}`, port: 5004 }],
              },
            ],
          },
          { name: `rx-${i}`, interfaces: [footIn(2 * i + 1)], receivers: [{ name: 'in', takes: `tx-${i}/sound` }] },
        ]).flat(),
      }),
  },
  { name: 'a list of streams', make: (n) => list(range(n, (i) => `s-${i},${group(i)},5004,${host(i)}`)) },
  { name: 'a list of equal rows', make: (n) => list(range(n, () => 's,239.16.0.1,5004,10.16.0.1')) },
  { name: 'a list of rows sharing name and group', make: (n) => list(range(n, (i) => `s,239.16.0.1,5004,${host(i)}`)) },
  {
    name: 'a list with unreadable cells',
    unread: true,
    make: (n) =>
      list(
        range(n, (i) => `s-${i},x${i},y`),
        'name,group,port',
      ),
  },
  {
    name: 'session descriptions',
    make: (n) =>
      range(n, (i) => ({
        name: `s-${i}.sdp`,
        text: `v=0\r\no=- ${i} 1 IN IP4 ${host(i)}\r\ns=s-${i}\r\nt=0 0\r\n${media(i)}`,
      })),
  },
  {
    name: 'media in one session',
    make: (n) => [
      { name: 's.sdp', text: `v=0\r\no=- 1 1 IN IP4 10.16.0.1\r\ns=s\r\nt=0 0\r\n${range(n, media).join('')}` },
    ],
  },
  { name: 'unknown keys', unread: true, make: (n) => json({ vlans: range(n, (i) => ({ name: `v-${i}`, idd: i })) }) },
  {
    name: 'YAML of pairs',
    make: (n) =>
      yaml(
        '',
        range(
          n,
          (i) =>
            `  - name: tx-${i}\n    interfaces:\n      - {name: red, vlan: red, address: ${host(i + 16)}/12, mac: "02:00:5e:${hex(i)}"}\n    senders:\n      - name: sound\n        legs: [{interface: red, group: ${group(i)}, port: 5004}]\n`,
        ),
      ),
  },
  {
    name: 'YAML aliases',
    make: (n) =>
      yaml(
        '&v ',
        range(
          n,
          (i) =>
            `  - {name: tx-${i}, interfaces: &i${i} [{name: red, vlan: red}], senders: []}\n  - {name: rx-${i}, interfaces: *i${i}}\n`,
        ),
      ),
  },
  {
    name: 'one long line',
    make: (n) => [{ name: 'plan.json', text: `{"rig": "Shape",${' '.repeat(100 * n)}"vlans": []}` }],
  },
];
