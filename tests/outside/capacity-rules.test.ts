/** Capacity rules against published numbers: how many streams fill a port, how large a packet may be, what a router port gets. */
import { describe, expect, it } from 'vitest';
import groupTableOverflow from '../../rules/capacity/group-table-overflow/rule.js';
import linkOverload from '../../rules/capacity/link-overload/rule.js';
import packetOverMtu from '../../rules/capacity/packet-over-mtu/rule.js';
import type { Facts as PacketFacts } from '../../rules/capacity/packet-over-mtu/words.js';
import portOverload from '../../rules/capacity/port-overload/rule.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Finding } from '../../src/lint/finding.js';
import type { Rule } from '../../src/lint/rule.js';

const VIDEO = {
  essence: 'video',
  coding: 'st2110-20',
  scan: 'progressive',
  sampling: 'YCbCr-4:2:2',
  depth: 10,
  packing: 'general',
};

describe('streams in a link that may be 90 % full (common practice, no source)', () => {
  /**
   * Rates on the wire with an 802.1Q tag. 1080p50: 4320 packets a frame of 1290 octets each, the worked example of "Pass
   * the Pixels" (tvtechnology.com), 2.229 Gbit/s; 2160p50: a little over four times that, 3GPP TR 26.925 table 5.4.1-1
   * gives 8.842 Gbit/s. JPEG XS at 4 bit a pixel: 1.7097 Gbit/s at the IP layer (ST 2110-22 §7.3) in packets of 1480
   * octets and 42 more around each.
   */
  const cases = [
    { name: '1080p50', format: { ...VIDEO, width: 1920, height: 1080, frameRate: 50 }, wireBps: 4320 * 50 * 1290 * 8 },
    { name: '2160p50', format: { ...VIDEO, width: 3840, height: 2160, frameRate: 50 }, wireBps: 8.842e9 },
    {
      name: '2160p50 JPEG XS 4 bpp',
      format: { ...VIDEO, coding: 'st2110-22', width: 3840, height: 2160, frameRate: 50, rate: '1709726 kbit/s' },
      wireBps: (1_709_726_000 * 1522) / 1480,
    },
  ];
  const links = [
    ['10G', 10e9],
    ['25G', 25e9],
    ['100G', 100e9],
  ] as const;

  it.each(
    cases.flatMap((one) => links.map(([rate, bps]) => ({ ...one, rate, most: Math.floor((0.9 * bps) / one.wireBps) }))),
  )('$name over $rate: $most, and not one more', ({ format, rate, most }) => {
    expect(run(linkOverload, overLink(format, rate, most))).toEqual([]);
    const [finding, ...others] = run(linkOverload, overLink(format, rate, most + 1));
    expect(finding?.rule).toBe('capacity/link-overload');
    expect(others).toEqual([]);
  });

  it('is an error from the stream on that does not fit at all', () => {
    const { format, wireBps } = cases[0] ?? { format: VIDEO, wireBps: 1 };
    const most = Math.floor(25e9 / wireBps);
    expect(run(linkOverload, overLink(format, '25G', most)).map(({ severity }) => severity)).toEqual(['warning']);
    expect(run(linkOverload, overLink(format, '25G', most + 1)).map(({ severity }) => severity)).toEqual(['error']);
  });
});

describe('sound in a packet', () => {
  /** AES67-2018 §6.3: 1440 octets of payload; ⌊1440 / (octets × samples)⌋ channels, samples as in its §7.2. */
  const samples: readonly (readonly [time: string, at48k: number])[] = [
    ['125 us', 6],
    ['250 us', 12],
    ['0.333333 ms', 16],
    ['1 ms', 48],
    ['4 ms', 192],
  ];
  const cases = ([16, 24] as const).flatMap((bits) =>
    ([48_000, 96_000] as const).flatMap((rate) =>
      samples.map(([time, at48k]) => ({
        bits,
        rate,
        time,
        most: Math.floor(1440 / ((bits / 8) * at48k * (rate / 48_000))),
      })),
    ),
  );

  it.each(cases)('L$bits at $rate in $time: $most channels, and not one more', ({ bits, rate, time, most }) => {
    const format = (channels: number): object => ({
      essence: 'audio',
      coding: 'aes67',
      channels,
      sampleRate: rate,
      sampleBits: bits,
      packetTime: time,
    });
    expect(run(packetOverMtu, alone(format(most), undefined))).toEqual([]);
    const [finding] = run(packetOverMtu, alone(format(most + 1), undefined));
    expect(finding?.severity).toBe('error');
    expect(finding?.facts).toMatchObject({
      form: 'datagram',
      channels: most + 1,
      mostChannels: most,
    } satisfies Partial<PacketFacts>);
  });

  it('holds 6 AM824 subframes of 1 ms, not 8: ST 2110-31 with the limit of ST 2110-10 §6.3', () => {
    const format = (channels: number): object => ({
      essence: 'audio',
      coding: 'st2110-31',
      channels,
      sampleRate: 48_000,
      packetTime: '1 ms',
    });
    expect(run(packetOverMtu, alone(format(6), undefined))).toEqual([]);
    expect(run(packetOverMtu, alone(format(8), undefined))[0]?.facts).toMatchObject({
      form: 'datagram',
      channels: 8,
      octets: 1536,
      mostOctets: 1440,
      mostChannels: 7,
    } satisfies Partial<PacketFacts>);
  });
});

describe('pictures in a packet', () => {
  const large = { ...VIDEO, width: 1920, height: 1080, frameRate: 50, maxUdp: 8960 };
  const standard = { ...VIDEO, width: 1920, height: 1080, frameRate: 50 };

  /** ST 2110-10 §6.4: 8960 octets of UDP with its header; RFC 791 §3.1: 20 octets of IP header on top. */
  it('of the extended size need 8980 octets, of the standard size not even 1500', () => {
    // GStreamer fills packets of 8960 octets to 5202084 RTP octets in 582 packets a frame (measured), up to 8 octets short of the limit each.
    expect(run(packetOverMtu, alone(large, 8980))).toEqual([]);
    expect(run(packetOverMtu, alone(large, 8900))).toHaveLength(1);
    expect(run(packetOverMtu, alone(standard, 1480))).toEqual([]);
    expect(run(packetOverMtu, alone(large, 1500))[0]?.severity).toBe('error');
  });
});

describe('a port towards the querier', () => {
  /** RFC 4541 §2.1.2 (1): packets go to the ports that joined and must go to router ports as well. */
  it('gets every stream of the VLAN, joined or not; a host beside it gets none', () => {
    const plan = {
      vlans: [
        {
          name: 'red',
          id: 10,
          igmp: { snooping: true, unregistered: 'drop', querier: [{ on: 'clock', address: '10.1.0.1' }] },
        },
      ],
      switches: [
        {
          name: 'leaf',
          ports: [
            { name: '1', rate: '10G', access: 'red' },
            { name: '2-3', rate: '1G', access: 'red' },
          ],
        },
      ],
      formats: [{ name: 'f', ...VIDEO, width: 1920, height: 1080, frameRate: 50 }],
      devices: [
        {
          name: 'cam',
          interfaces: [{ name: 'red', vlan: 'red', port: 'leaf/1' }],
          senders: [{ name: 'video', format: 'f', legs: [{ interface: 'red', group: '239.1.1.1' }] }],
        },
        { name: 'clock', interfaces: [{ name: 'red', vlan: 'red', port: 'leaf/2', address: '10.1.0.1/24' }] },
        { name: 'panel', interfaces: [{ name: 'red', vlan: 'red', port: 'leaf/3' }] },
      ],
    };
    expect(run(portOverload, plan).map(({ subject }) => subject)).toEqual(['to clock red at leaf/2']);
  });
});

describe('group tables', () => {
  /** RFC 1112 §6.4: 32 groups to a multicast MAC; 224.1.2.3 and 239.129.2.3 share one (RFC 4541 §4). */
  it('keyed by multicast MAC hold one entry for the pair of RFC 4541 §4, keyed by group two', () => {
    const plan = (key: string): object => ({
      vlans: [{ name: 'red', id: 10 }],
      switches: [{ name: 'leaf', groupTableSize: 2, snoopingKey: key, ports: [{ name: '1-3', access: 'red' }] }],
      devices: [
        ...['224.1.2.3', '239.129.2.3'].map((group, index) => ({
          name: `cam-${index}`,
          interfaces: [{ name: 'red', vlan: 'red', port: `leaf/${index + 1}` }],
          senders: [{ name: 'video', legs: [{ interface: 'red', group }] }],
        })),
        {
          name: 'monitor',
          interfaces: [{ name: 'red', vlan: 'red', port: 'leaf/3' }],
          receivers: [0, 1].map((index) => ({ name: `in-${index}`, takes: `cam-${index}/video`, interfaces: ['red'] })),
        },
      ],
    });
    expect(run(groupTableOverflow, plan('group')).map(({ severity }) => severity)).toEqual(['warning']);
    expect(run(groupTableOverflow, plan('mac'))).toEqual([]);
  });
});

function run(rule: Rule, plan: object): readonly Finding[] {
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], [rule], { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

function alone(format: object, mtu: number | undefined): object {
  return {
    vlans: [{ name: 'red', id: 10, ...(mtu === undefined ? {} : { mtu }) }],
    formats: [{ name: 'f', ...format }],
    devices: [
      {
        name: 'box',
        interfaces: [{ name: 'red', vlan: 'red' }],
        senders: [{ name: 'out', format: 'f', legs: [{ interface: 'red', group: '239.1.1.1' }] }],
      },
    ],
  };
}

/** So many senders behind one link, all taken on the other side. */
function overLink(format: object, rate: string, count: number): object {
  const names = Array.from({ length: count }, (_, index) => `cam-${index + 1}`);
  return {
    vlans: [{ name: 'red', id: 10 }],
    switches: [
      { name: 'leaf', ports: [...names.map((name) => ({ name, access: 'red' })), { name: 'up', trunk: ['red'] }] },
      {
        name: 'core',
        ports: [
          { name: '1', access: 'red' },
          { name: 'down', trunk: ['red'] },
        ],
      },
    ],
    links: [{ name: 'R01', ends: ['leaf/up', 'core/down'], rate }],
    formats: [{ name: 'f', ...format }],
    devices: [
      ...names.map((name, index) => ({
        name,
        interfaces: [{ name: 'red', vlan: 'red', port: `leaf/${name}` }],
        senders: [{ name: 'video', format: 'f', legs: [{ interface: 'red', group: `239.1.1.${index + 1}` }] }],
      })),
      {
        name: 'wall',
        interfaces: [{ name: 'red', vlan: 'red', port: 'core/1' }],
        receivers: names.map((name) => ({ name: `from-${name}`, takes: `${name}/video`, interfaces: ['red'] })),
      },
    ],
  };
}
