/**
 * Rules on sources, receivers and streams against published documents: RFC 4607 (source-specific groups), RFC 3551
 * (payload types), RFC 7104 and RFC 4570 (session descriptions), and the examples of AMWA IS-05 and BCP-006-04.
 *
 * Longer than a file should be: published values, document by document, and what the rules say of each.
 */
import { whatOf } from '../tools/worded.js';
import { describe, expect, it } from 'vitest';
import descriptionDiffers from '../../rules/streams/description-differs/rule.js';
import groupDiffers from '../../rules/receivers/group-differs/rule.js';
import legsDiffer from '../../rules/streams/legs-differ/rule.js';
import nobodySends from '../../rules/receivers/nobody-sends/rule.js';
import notFiltered from '../../rules/sources/not-filtered/rule.js';
import notUnicast from '../../rules/sources/not-unicast/rule.js';
import oddPort from '../../rules/streams/odd-port/rule.js';
import payloadType from '../../rules/streams/payload-type/rule.js';
import portDiffers from '../../rules/receivers/port-differs/rule.js';
import ssmReserved from '../../rules/sources/ssm-reserved/rule.js';
import ssmWithoutSource from '../../rules/sources/ssm-without-source/rule.js';
import twoSenders from '../../rules/groups/two-senders/rule.js';
import unicastToNobody from '../../rules/streams/unicast-to-nobody/rule.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { Finding } from '../../src/lint/finding.js';
import { skipped, textOf, unpublished } from '../tools/outside.js';

const RULES = [
  descriptionDiffers,
  groupDiffers,
  legsDiffer,
  nobodySends,
  notFiltered,
  notUnicast,
  oddPort,
  payloadType,
  portDiffers,
  ssmReserved,
  ssmWithoutSource,
  twoSenders,
  unicastToNobody,
];

function findings(plan: object, sdp: Readonly<Record<string, string>> = {}): readonly Finding[] {
  const inputs = [
    { name: 'rig.json', text: JSON.stringify(plan) },
    ...Object.entries(sdp).map(([name, text]) => ({ name, text })),
  ];
  const result = lintInputs(inputs, RULES, { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

function rulesOf(plan: object, sdp: Readonly<Record<string, string>> = {}): readonly string[] {
  return findings(plan, sdp)
    .map(({ rule }) => rule)
    .toSorted();
}

function stream(leg: object, more: object = {}): object {
  return { streams: [{ name: 'start', legs: [{ port: 5004, ...leg }], ...more }] };
}

describe('RFC 4607 §4.3 and §9: groups kept by IANA, at their edges', () => {
  it.each(['232.0.0.0', '232.0.0.1', '232.0.0.255', 'ff38::4000:0', 'ff38::4000:1', 'ff38::7fff:ffff'])(
    '%s is',
    (group) => {
      const source = group.includes(':') ? 'fd00::11' : '10.10.0.11';
      expect(rulesOf(stream({ group, source }))).toEqual(['sources/ssm-reserved']);
    },
  );

  it.each(['231.255.255.255', '232.0.1.0', '232.255.255.255', '233.0.0.0', 'ff38::8000:0', 'ff38::ffff:ffff'])(
    '%s is not',
    (group) => {
      const source = group.includes(':') ? 'fd00::11' : '10.10.0.11';
      expect(rulesOf(stream({ group, source }))).toEqual([]);
    },
  );
});

describe('RFC 4607 §1: which groups need a source', () => {
  it.each(['232.0.1.0', '232.255.255.255', 'ff35::8000:1', 'ff3e::8000:1'])('%s does', (group) => {
    expect(rulesOf(stream({ group }))).toEqual(['sources/ssm-without-source']);
  });

  it.each(['231.255.255.255', '233.0.0.0', '239.232.0.1', 'ff15::8000:1', 'ff38:40:2001:db8::8000:1'])(
    '%s does not',
    (group) => {
      expect(rulesOf(stream({ group }))).toEqual([]);
    },
  );
});

describe('RFC 4570 §3.2: source filters of session descriptions', () => {
  const example = (lines: readonly string[]): Readonly<Record<string, string>> => ({
    'example.sdp': [
      'v=0',
      'o=- 1 1 IN IP4 192.0.2.10',
      's=start',
      't=0 0',
      'm=video 5004 RTP/AVP 96',
      ...lines,
      'a=rtpmap:96 raw/90000',
      '',
    ].join('\n'),
  });

  it('§3.2.1: a filter gives the source-specific group its source', () => {
    expect(
      rulesOf({}, example(['c=IN IP4 232.3.4.5/127', 'a=source-filter: incl IN IP4 232.3.4.5 192.0.2.10'])),
    ).toEqual([]);
  });

  it('without it, or with one about another group, there is no source', () => {
    expect(rulesOf({}, example(['c=IN IP4 232.3.4.5/127']))).toEqual(['sources/ssm-without-source']);
    expect(
      rulesOf({}, example(['c=IN IP4 232.3.4.5/127', 'a=source-filter: incl IN IP4 232.3.4.6 192.0.2.10'])),
    ).toEqual(['sources/ssm-without-source']);
  });
});

describe('RFC 3551 §6: payload types', () => {
  // Tables 4 and 5: "reserved" and "unassigned" types; the others below 96 have a meaning.
  const reserved = [1, 2, 19, 72, 73, 74, 75, 76];
  const unassigned = [...range(20, 24), 27, 29, 30, ...range(35, 71), ...range(77, 95)];
  const judge = (format: object | undefined): readonly number[] =>
    range(0, 127).filter(
      (type) =>
        rulesOf(stream({ group: '239.10.1.1', payloadType: type }, format === undefined ? {} : { format })).length > 0,
    );

  it('a ST 2110 picture has dynamic types only (ST 2110-10 §6.2)', () => {
    expect(judge({ coding: 'st2110-20' })).toEqual(range(0, 95));
  });

  it('a stream whose coding is not stated may be anything but RTCP', () => {
    expect(judge(undefined)).toEqual(range(72, 76));
  });

  it('other codings may use what has no meaning', () => {
    const meaningful = range(0, 95).filter((type) => !unassigned.includes(type));
    expect(reserved.every((type) => meaningful.includes(type))).toBe(true);
    expect(judge({ coding: 'h264' })).toEqual(meaningful);
  });

  it.each([
    ['MP2T', 33, { coding: 'mpeg2-ts' }],
    ['JPEG', 26, { coding: 'mjpeg' }],
    ['L16 stereo', 10, { coding: 'aes67', sampleRate: 44100, sampleBits: 16, channels: 2 }],
    ['L16 mono', 11, { coding: 'aes67', sampleRate: 44100, sampleBits: 16, channels: 1 }],
  ])('%s has type %i of its own', (_, type, format) => {
    const meaningful = range(0, 95).filter((other) => !unassigned.includes(other) && other !== type);
    expect(judge(format)).toEqual(meaningful);
  });
});

describe('RFC 7104 §4: redundant streams', () => {
  const leg = (type: number, group: string, mid: string): string =>
    `m=video 30000 RTP/AVP ${type}\nc=IN IP4 ${group}/127\na=source-filter:incl IN IP4 ${group} 198.51.100.1\na=rtpmap:${type} MP2T/90000\na=mid:${mid}\n`;
  const head = 'v=0\no=ali 1122334455 1122334466 IN IP4 dup.example.com\ns=DUP Grouping Semantics\nt=0 0\n';

  it('§4.2 gives its legs payload types 100 and 101, which ST 2110-10 §8.5 does not allow', () => {
    const found = findings(
      {},
      {
        'rfc7104.sdp': `${head}a=group:DUP S1a S1b\n${leg(100, '233.252.0.1', 'S1a')}${leg(101, '233.252.0.2', 'S1b')}`,
      },
    );
    expect(found.map(({ rule }) => rule)).toEqual(['streams/legs-differ']);
    expect(whatOf(found[0])).toContain('leg 1 100, leg 2 101');
  });

  it('the same with one payload type is in order', () => {
    expect(
      rulesOf(
        {},
        {
          'rfc7104.sdp': `${head}a=group:DUP S1a S1b\n${leg(100, '233.252.0.1', 'S1a')}${leg(100, '233.252.0.2', 'S1b')}`,
        },
      ),
    ).toEqual([]);
  });

  it('§4.1: one group with two sources is one stream, not two senders', () => {
    const text = `${head}m=video 30000 RTP/AVP 100\nc=IN IP4 233.252.0.1/127\na=source-filter:incl IN IP4 233.252.0.1 198.51.100.1 198.51.100.2\na=rtpmap:100 MP2T/90000\na=ssrc:1000 cname:ch1@example.com\na=ssrc:1010 cname:ch1@example.com\na=ssrc-group:DUP 1000 1010\na=mid:Ch1\n`;
    expect(rulesOf({}, { 'rfc7104.sdp': text })).toEqual([]);
  });
});

describe('RFC 1112 and RFC 4604: one group, several sources', () => {
  // Each case is judged by exactly one of the two rules, or by none.
  const cases: readonly [string, object, readonly string[]][] = [
    ['source-specific, no version stated', { group: '232.10.1.1', version: undefined }, []],
    ['source-specific, IGMP 3', { group: '232.10.1.1', version: 3 }, []],
    ['source-specific, IGMP 2 (RFC 4604 §2.2.3)', { group: '232.10.1.1', version: 2 }, ['sources/not-filtered']],
    ['any-source, no version stated', { group: '239.10.1.1', version: undefined }, ['groups/two-senders']],
    ['any-source, IGMP 3 (RFC 3376 §1)', { group: '239.10.1.1', version: 3 }, []],
    ['any-source, IGMP 2 (RFC 2236)', { group: '239.10.1.1', version: 2 }, ['sources/not-filtered']],
    ['any-source, IGMP 1 (RFC 1112 appendix I)', { group: '239.10.1.1', version: 1 }, ['sources/not-filtered']],
  ];

  it.each(cases)('%s', (_, given, expected) => {
    const { group, version } = given as { readonly group: string; readonly version: number | undefined };
    const vlan = { name: 'red-video', subnet: '10.10.0.0/24', ...(version === undefined ? {} : { igmp: { version } }) };
    const streams = ['10.10.0.11', '10.10.0.12'].map((source) => ({
      name: source,
      legs: [{ vlan: 'red-video', group, source, port: 5004 }],
    }));
    expect(rulesOf({ vlans: [vlan], streams })).toEqual(expected);
  });
});

describe('RFC 3550 §11: even ports', () => {
  it.each([
    [5004, []],
    [5005, ['streams/odd-port']],
    [1, ['streams/odd-port']],
    [65534, []],
    [65535, ['streams/odd-port']],
  ])('%i', (port, expected) => {
    expect(rulesOf(stream({ group: '239.10.1.1', port }))).toEqual(expected);
  });
});

describe('addresses that are no source (RFC 1112 §4 and §7.2, RFC 1122 §3.2.1.3, RFC 3021 §2.1, RFC 3927 §2.1), at their edges', () => {
  const vlans = [
    { name: 'red-video', subnet: '10.10.0.0/24' },
    { name: 'link', subnet: '10.10.9.0/31' },
  ];
  const judge = (source: string, vlan = 'red-video'): readonly string[] =>
    rulesOf({ vlans, ...stream({ group: '239.10.1.1', vlan, source }) });

  it.each([
    '0.0.0.0',
    '0.255.255.255',
    '127.0.0.0',
    '127.255.255.255',
    '169.254.0.0',
    '169.254.255.255',
    '224.0.0.0',
    '239.255.255.255',
    '240.0.0.0',
    '255.255.255.255',
    '10.10.0.0',
    '10.10.0.255',
  ])('%s', (source) => {
    expect(judge(source)).toEqual(['sources/not-unicast']);
  });

  it.each([
    '1.0.0.0',
    '126.255.255.255',
    '128.0.0.0',
    '169.253.255.255',
    '169.255.0.0',
    '223.255.255.255',
    '10.10.0.1',
    '10.10.0.254',
  ])('%s may be one', (source) => {
    expect(judge(source)).toEqual([]);
  });

  it.each(['10.10.9.0', '10.10.9.1'])('%s: both ends of a /31 may be one', (source) => {
    expect(judge(source, 'link')).toEqual([]);
  });
});

/** Single lines of AMWA's examples, the file beside each; where the files are here, they are held against them. */
const RECEIVER_ACTIVE = {
  file: 'nmos/is-05/examples/receiver-active-get-200.json', // IS-05 v1.1.x
  source_ip: '172.29.226.25',
  multicast_ip: '232.250.98.80',
  destination_port: 5010,
  // Lines of transport_file.data
  lines: [
    'o=- 1496222842 1496222842 IN IP4 172.29.226.25',
    's=IP Studio Stream',
    'm=video 5010 RTP/AVP 103',
    'c=IN IP4 232.250.98.80/32',
    'a=source-filter: incl IN IP4 232.250.98.80 172.29.226.25',
    'a=rtpmap:103 raw/90000',
  ],
};
const SENDER_ACTIVE = {
  file: 'nmos/is-05/examples/sender-active-get.json', // IS-05 v1.1.x, transport_params
  legs: [
    { source_ip: '172.29.82.23', destination_ip: '172.29.82.95', destination_port: 5000 },
    { source_ip: '172.30.82.23', destination_ip: '172.30.82.95', destination_port: 5000 },
  ],
};
const TRANSPORT_STREAM = {
  file: 'nmos/bcp-006-04/examples/mpeg_ts_rtp.sdp', // BCP-006-04
  lines: [
    'o=- 2890844526 2890844526 IN IP4 192.168.1.1',
    's=Example MPEG transport stream',
    'c=IN IP4 239.255.0.1/32',
    'm=video 5004 RTP/AVP 33',
    'a=source-filter: incl IN IP4 224.1.1.1 192.168.1.1',
    'a=rtpmap:33 MP2T/90000',
  ],
};
const JPEG_XS = {
  file: 'nmos/bcp-006-01/examples/jpeg-xs.sdp', // BCP-006-01 v1.0.x
  lines: [
    'o=- 1443716955 1443716955 IN IP4 192.168.1.2',
    's=SMPTE ST2110-22 JPEG XS',
    'm=video 30000 RTP/AVP 112',
    'c=IN IP4 224.1.1.1/64',
    'a=source-filter: incl IN IP4 224.1.1.1 192.168.1.2',
    'a=rtpmap:112 jxsv/90000',
    'a=ts-refclk:localmac=40-a3-6b-a0-2b-d2',
  ],
};

/** A session description of these lines, with the version and the time that all have. */
function described({ lines }: { readonly lines: readonly string[] }): string {
  const first = lines.findIndex((line) => line.startsWith('m='));
  const session = lines.slice(0, first).toSorted((a, b) => 'osc'.indexOf(a.charAt(0)) - 'osc'.indexOf(b.charAt(0)));
  return ['v=0', ...session, 't=0 0', ...lines.slice(first), ''].join('\r\n');
}

describe('AMWA examples', () => {
  describe("IS-05 receiver-active: the receiver's parameters follow from its SDP file", () => {
    const sdp = { 'active.sdp': described(RECEIVER_ACTIVE) };
    const receiver = (leg: object, takes: object): object => ({
      vlans: [{ name: 'media' }],
      devices: [
        {
          name: 'screen',
          interfaces: [{ name: 'red' }],
          receivers: [
            {
              name: 'in',
              ...takes,
              legs: [
                {
                  interface: 'red',
                  group: RECEIVER_ACTIVE.multicast_ip,
                  source: RECEIVER_ACTIVE.source_ip,
                  port: RECEIVER_ACTIVE.destination_port,
                  ...leg,
                },
              ],
            },
          ],
        },
      ],
    });
    const takes = { takes: 'IP Studio Stream' };

    it('agrees with what the rules take from the file', () => {
      expect(rulesOf(receiver({}, takes), sdp)).toEqual([]);
      expect(rulesOf(receiver({}, {}), sdp)).toEqual([]);
    });

    it.each([
      ['group', { group: '232.250.98.81' }, 'receivers/group-differs', 'receivers/nobody-sends'],
      ['source', { source: '172.29.26.24' }, 'receivers/group-differs', 'receivers/nobody-sends'],
      ['port', { port: 5004 }, 'receivers/port-differs', 'receivers/port-differs'],
    ])('shows another %s, whether the sender is named or not', (_, change, named, unnamed) => {
      expect(rulesOf(receiver(change, takes), sdp)).toEqual([named]);
      expect(rulesOf(receiver(change, {}), sdp)).toEqual([unnamed]);
    });
  });

  it('IS-05 sender-active: a unicast pair needs somebody at both addresses', () => {
    const legs = SENDER_ACTIVE.legs.map((one, index) => ({
      vlan: `leg ${index + 1}`,
      unicast: one.destination_ip,
      source: one.source_ip,
      port: one.destination_port,
    }));
    const plan = (second: string): object => ({
      vlans: [
        { name: 'leg 1', subnet: '172.29.82.0/24' },
        { name: 'leg 2', subnet: '172.30.82.0/24' },
      ],
      devices: [
        {
          name: 'screen',
          interfaces: [
            { name: 'red', address: '172.29.82.95/24' },
            { name: 'blue', address: second },
          ],
        },
      ],
      streams: [{ name: 'start', legs }],
    });
    expect(rulesOf(plan('172.30.82.95/24'))).toEqual([]);
    expect(findings(plan('172.30.82.96/24')).map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([
      'streams/unicast-to-nobody 172.30.82.95',
    ]);
  });

  it('BCP-006-04: an MPEG-2 transport stream on its static type 33 is in order, on 34 (H.263) not', () => {
    const text = described(TRANSPORT_STREAM);
    expect(rulesOf({}, { 'ts.sdp': text })).toEqual([]);
    expect(rulesOf({}, { 'ts.sdp': text.replace('AVP 33', 'AVP 34').replace('rtpmap:33', 'rtpmap:34') })).toEqual([
      'streams/payload-type',
    ]);
  });

  it('BCP-006-01: a description beside the plan, as published and with one number changed', () => {
    const text = described(JPEG_XS);
    const plan = (leg: object): object => ({
      streams: [
        {
          name: 'SMPTE ST2110-22 JPEG XS',
          format: { coding: 'st2110-22' },
          legs: [{ group: '224.1.1.1', port: 30_000, payloadType: 112, ...leg }],
        },
      ],
    });
    expect(rulesOf(plan({}), { 'jpeg-xs.sdp': text })).toEqual([]);
    expect(rulesOf(plan({ payloadType: 127 }), { 'jpeg-xs.sdp': text })).toEqual(['streams/description-differs']);
  });

  const missing = unpublished('nmos');
  describe.skipIf(missing !== undefined)(`whole files${skipped(missing)}`, () => {
    it('hold the values above, and say the same to the rules', () => {
      interface Active {
        readonly transport_file: { readonly data: string };
        readonly transport_params: readonly object[];
      }
      const active = JSON.parse(textOf(RECEIVER_ACTIVE.file)) as Active;
      const { source_ip, multicast_ip, destination_port } = RECEIVER_ACTIVE;
      expect(active.transport_params).toMatchObject([{ source_ip, multicast_ip, destination_port }]);
      expect(active.transport_file.data.split('\r\n')).toEqual(expect.arrayContaining(RECEIVER_ACTIVE.lines));
      expect((JSON.parse(textOf(SENDER_ACTIVE.file)) as Active).transport_params).toMatchObject(SENDER_ACTIVE.legs);
      for (const one of [TRANSPORT_STREAM, JPEG_XS]) {
        const text = textOf(one.file);
        expect(text.split(/\r?\n/)).toEqual(expect.arrayContaining(one.lines));
        expect(rulesOf({}, { 'one.sdp': text })).toEqual(rulesOf({}, { 'one.sdp': described(one) }));
      }
      expect(rulesOf({}, { 'active.sdp': active.transport_file.data })).toEqual(
        rulesOf({}, { 'active.sdp': described(RECEIVER_ACTIVE) }),
      );
    });
  });
});

function range(first: number, last: number): readonly number[] {
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}
