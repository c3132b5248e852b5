import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';

/** A camera of rig Heron, both legs. */
const CAMERA = [
  'v=0',
  'o=- 7 3 IN IP4 10.20.1.31',
  's=heron-cam-1',
  't=0 0',
  'a=group:DUP red blue',
  'a=ts-refclk:ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-01:20',
  'm=video 5004 RTP/AVP 96',
  'c=IN IP4 239.20.1.1/16',
  'a=source-filter: incl IN IP4 239.20.1.1 10.20.1.31',
  'a=rtpmap:96 raw/90000',
  'a=fmtp:96 sampling=YCbCr-4:2:2; width=1920; height=1080; exactframerate=50; depth=10; PM=2110BPM; MAXUDP=8960',
  'a=mediaclk:direct=0',
  'a=mid:red',
  'm=video 5004 RTP/AVP 96',
  'c=IN IP4 239.120.1.1/16',
  'a=source-filter: incl IN IP4 239.120.1.1 10.120.1.31',
  'a=rtpmap:96 raw/90000',
  'a=ts-refclk:ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-02:20',
  'a=mediaclk:direct=0',
  'a=mid:blue',
] as const;

interface Stream {
  readonly name: string;
  readonly essence?: string;
  readonly format?: Readonly<Record<string, unknown>>;
  readonly session?: string;
  readonly legs: readonly Readonly<Record<string, unknown>>[];
}

function streamsOf(text: string, name = 'rig/heron.sdp'): readonly Stream[] {
  return (documentOf(readSdp(name, text)).value as { readonly streams: readonly Stream[] }).streams;
}

function description(...lines: readonly string[]): string {
  return ['v=0', 'o=- 1 1 IN IP4 10.20.1.31', 's=heron', 't=0 0', ...lines, ''].join('\r\n');
}

function audio(...lines: readonly string[]): string {
  return description('m=audio 5004 RTP/AVP 97', 'c=IN IP4 239.20.2.1/16', ...lines);
}

describe('a redundant stream', () => {
  const expected: readonly Stream[] = [
    {
      name: 'heron-cam-1',
      session: '- 7 IN IP4 10.20.1.31',
      format: {
        essence: 'video',
        coding: 'st2110-20',
        width: 1920,
        height: 1080,
        frameRate: '50',
        scan: 'progressive',
        sampling: 'YCbCr-4:2:2',
        depth: '10',
        packing: 'block',
        maxUdp: 8960,
      },
      legs: [
        {
          group: '239.20.1.1',
          source: '10.20.1.31',
          port: 5004,
          payloadType: 96,
          ttl: 16,
          mediaClock: 'direct=0',
          referenceClock: 'ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-01:20',
        },
        {
          group: '239.120.1.1',
          source: '10.120.1.31',
          port: 5004,
          payloadType: 96,
          ttl: 16,
          mediaClock: 'direct=0',
          referenceClock: 'ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-02:20',
        },
      ],
    },
  ];

  it.each([
    ['CRLF', CAMERA.join('\r\n') + '\r\n'],
    ['LF', CAMERA.join('\n') + '\n'],
    ['no final newline', CAMERA.join('\n')],
    ['mixed line ends', CAMERA.map((line, index) => line + (index % 2 === 0 ? '\r\n' : '\n')).join('')],
    ['a byte order mark', '\ufeff' + CAMERA.join('\r\n')],
    ['blank lines at the end', CAMERA.join('\n') + '\n\n  \n'],
    ['filters without the blank', CAMERA.join('\n').replaceAll('filter: ', 'filter:')],
    ['trailing semicolons', CAMERA.map((line) => (/fmtp|mid/.test(line) ? `${line};` : line)).join('\n')],
  ])('is one stream with two legs, with %s', (_, text) => {
    expect(streamsOf(text)).toEqual(expected);
  });

  it('takes the legs in the order of the group, not of the media', () => {
    const text = CAMERA.join('\n').replace('DUP red blue', 'DUP blue red');
    expect(streamsOf(text)[0]?.legs.map((leg) => leg['group'])).toEqual(['239.120.1.1', '239.20.1.1']);
  });

  it('points each value at its characters', () => {
    const text = CAMERA.join('\r\n');
    const texts = new Map(leavesOf(documentOf(readSdp('heron.sdp', text))).map((leaf) => [leaf.path, leaf.text]));
    expect(Object.fromEntries(texts)).toEqual({
      'streams.0.name': 'heron-cam-1',
      'streams.0.session': '- 7 3 IN IP4 10.20.1.31',
      'streams.0.format.essence': 'video',
      'streams.0.format.coding': 'raw',
      'streams.0.format.width': '1920',
      'streams.0.format.height': '1080',
      'streams.0.format.frameRate': '50',
      'streams.0.format.scan': CAMERA[10].slice('a=fmtp:96 '.length),
      'streams.0.format.sampling': 'YCbCr-4:2:2',
      'streams.0.format.depth': '10',
      'streams.0.format.packing': '2110BPM',
      'streams.0.format.maxUdp': '8960',
      'streams.0.legs.0.group': '239.20.1.1',
      'streams.0.legs.0.source': '10.20.1.31',
      'streams.0.legs.0.port': '5004',
      'streams.0.legs.0.payloadType': '96',
      'streams.0.legs.0.ttl': '16',
      'streams.0.legs.0.referenceClock': 'ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-01:20',
      'streams.0.legs.0.mediaClock': 'direct=0',
      'streams.0.legs.1.group': '239.120.1.1',
      'streams.0.legs.1.source': '10.120.1.31',
      'streams.0.legs.1.port': '5004',
      'streams.0.legs.1.payloadType': '96',
      'streams.0.legs.1.ttl': '16',
      'streams.0.legs.1.referenceClock': 'ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-02:20',
      'streams.0.legs.1.mediaClock': 'direct=0',
    });
  });

  it('knows the place of keys that the file writes', () => {
    const text = CAMERA.join('\n');
    const document = documentOf(readSdp('heron.sdp', text));
    const format = (document.value as { streams: readonly Stream[] }).streams[0]?.format ?? {};
    const key = document
      .spans(new Set([format]))
      .get(format)
      ?.entries.get('width')?.key;
    expect(text.slice(key?.start, key?.end)).toBe('width');
  });
});

describe('formats', () => {
  it.each<readonly [string, string, Readonly<Record<string, unknown>>]>([
    // ST 2110-30 and AES67 payloads by RFC 3190 and RFC 8866 §6.6.
    [
      'audio 97',
      'a=rtpmap:97 L24/48000/8\na=ptime:0.125',
      {
        essence: 'audio',
        coding: 'st2110-30',
        channels: 8,
        sampleRate: 48000,
        sampleBits: 24,
        packetTime: '0.125 ms',
      },
    ],
    [
      'audio 97',
      'a=rtpmap:97 L16/48000',
      {
        essence: 'audio',
        coding: 'st2110-30',
        channels: 1,
        sampleRate: 48000,
        sampleBits: 16,
      },
    ],
    // Essence.md §2.4 (ST 2110-31): 0.12 stands for 125 microseconds.
    [
      'audio 97',
      'a=rtpmap:97 AM824/48000/16\na=ptime:0.12',
      {
        essence: 'audio',
        coding: 'st2110-31',
        channels: 16,
        sampleRate: 48000,
        packetTime: '0.12 ms',
      },
    ],
    // RFC 3551 §6: static types 10 and 11 are L16 at 44.1 kHz, stereo and mono; 26 JPEG, 33 MP2T.
    [
      'audio 10',
      'a=ptime:1',
      {
        essence: 'audio',
        coding: 'st2110-30',
        channels: 2,
        sampleRate: 44100,
        sampleBits: 16,
        packetTime: '1 ms',
      },
    ],
    ['audio 11', '', { essence: 'audio', coding: 'st2110-30', channels: 1, sampleRate: 44100, sampleBits: 16 }],
    ['video 33', '', { essence: 'video', coding: 'mpeg2-ts' }],
    ['video 26', 'a=framerate:25', { essence: 'video', coding: 'mjpeg', frameRate: '25' }],
    ['audio 0', '', { essence: 'audio', coding: 'other' }],
    [
      'video 100',
      'a=rtpmap:100 smpte291/90000\na=fmtp:100 exactframerate=60000/1001;VPID_Code=133',
      {
        essence: 'data',
        coding: 'st2110-40',
        frameRate: '60000/1001',
      },
    ],
    ['application 100', 'a=rtpmap:100 ST2110-41/90000', { essence: 'data', coding: 'st2110-41' }],
    ['video 98', 'a=rtpmap:98 SMPTE2022-6/27000000', { essence: 'video', coding: 'st2022-6' }],
    ['video 98', 'a=rtpmap:98 H264/90000\na=fmtp:98 packetization-mode=1', { essence: 'video', coding: 'h264' }],
    ['video 98', 'a=rtpmap:98 H265/90000', { essence: 'video', coding: 'h265' }],
    ['video 98', 'a=rtpmap:98 jpeg2000/90000', { essence: 'video', coding: 'jpeg2000' }],
    ['video 98', 'a=rtpmap:98 vp8/90000\nb=AS:5000', { essence: 'video', coding: 'other' }],
    [
      'video 98',
      'b=AS:116000\na=rtpmap:98 jxsv/90000\na=fmtp:98 packetmode=0;interlace;segmented;width=1280',
      {
        essence: 'video',
        coding: 'st2110-22',
        scan: 'psf',
        width: 1280,
        rate: '116000 kbit/s',
      },
    ],
    [
      'video 98',
      'a=rtpmap:98 raw/90000\na=fmtp:98 width=1280;interlaced',
      {
        essence: 'video',
        coding: 'st2110-20',
        width: 1280,
      },
    ],
  ])('m=%s with %s', (media, lines, format) => {
    const [kind = '', type = ''] = media.split(' ');
    const head = [`m=${kind} 5004 RTP/AVP ${type}`, 'c=IN IP4 239.20.2.1/16'];
    expect(streamsOf(description(...head, ...lines.split('\n')))[0]?.format).toEqual(format);
  });

  it('states the essence alone where nothing maps the payload type', () => {
    const [stream] = streamsOf(audio('a=rtpmap:96 L24/48000/2', 'a=ptime:1'));
    expect(stream).toMatchObject({ essence: 'audio', legs: [{ payloadType: 97, packetTime: '1 ms' }] });
    expect(stream).not.toHaveProperty('format');
  });

  it('keeps a clock identity written with blanks whole (formats.md §1.6)', () => {
    const clock = 'ptp=IEEE1588-2008:02 00 5e ff fe 10 00 01:20';
    expect(streamsOf(audio(`a=ts-refclk:${clock}`))[0]?.legs[0]).toMatchObject({ referenceClock: clock });
  });
});

describe('names', () => {
  it.each([
    ['s=heron-cam-1', 'heron-cam-1'],
    ['s=CAM 1/video\u0007', 'CAM 1-video'],
    ['s=-', 'heron'],
    ['s= ', 'heron'],
    ['s=///', '---'],
  ])('%j is %s', (line, name) => {
    expect(streamsOf(audio().replace('s=heron', line), 'rigs/heron.sdp')[0]?.name).toBe(name);
  });

  it('are kept apart by mid, else by the number of the medium', () => {
    const media = ['m=audio 5004 RTP/AVP 97', 'c=IN IP4 239.20.2.1/16'];
    expect(
      streamsOf(description(...media, 'a=mid:left', ...media, ...media, 'a=mid:left')).map(({ name }) => name),
    ).toEqual(['heron left', 'heron 2', 'heron left 2']);
  });
});

describe('what gives no stream', () => {
  it.each([
    'm=audio 0 RTP/AVP 97',
    'm=application 9 UDP/DTLS/SCTP webrtc-datachannel',
    'm=video 5004 TCP/RTP/AVP 96',
    'm=message 7654 TCP/MSRP *',
    'm=video 5004 udp 33',
  ])('%s', (line) => {
    expect(streamsOf(description('c=IN IP4 239.20.2.1/16', line))).toEqual([]);
  });

  it.each(['c=IN IP4 0.0.0.0', 'c=IN IP6 ::'])('a placeholder %s', (line) => {
    expect(streamsOf(description('m=audio 9 RTP/AVP 97', line))).toEqual([]);
  });
});

describe('destinations', () => {
  it('takes ports two apart for a port count, paired with a group count (RFC 8866 §5.14)', () => {
    // RFC 8866 §5.14's example, from memory: port 49170/2 with 233.252.0.1/127/2 uses 49170 and 49172.
    const text = description('m=video 49170/2 RTP/AVP 31', 'c=IN IP4 233.252.0.1/127/2');
    expect(streamsOf(text).map(({ name, legs }) => [name, legs[0]?.['group'], legs[0]?.['port']])).toEqual([
      ['heron 1 1', '233.252.0.1', 49170],
      ['heron 1 2', '233.252.0.2', 49172],
    ]);
  });

  it('takes several c= lines of one medium as several groups (RFC 8866 §5.7)', () => {
    const text = description('m=audio 5004 RTP/AVP 97', 'c=IN IP4 239.20.2.1/16', 'c=IN IP4 239.20.2.9/16');
    expect(streamsOf(text).map(({ legs }) => legs[0]?.['group'])).toEqual(['239.20.2.1', '239.20.2.9']);
  });

  it('takes the first source as the sender when a filter lets in several', () => {
    const [stream] = streamsOf(audio('a=source-filter: incl IN IP4 239.20.2.1 10.20.1.31 10.20.1.32'));
    expect(stream?.legs.map((leg) => leg['source'])).toEqual(['10.20.1.31']);
  });

  it('pairs counted groups of two redundant media', () => {
    const text = description(
      'a=group:DUP a b',
      'm=audio 5004 RTP/AVP 97',
      'c=IN IP4 239.20.2.1/16/2',
      'a=mid:a',
      'm=audio 5004 RTP/AVP 97',
      'c=IN IP4 239.120.2.1/16/2',
      'a=mid:b',
    );
    expect(streamsOf(text).map(({ legs }) => legs.map((leg) => leg['group']))).toEqual([
      ['239.20.2.1', '239.120.2.1'],
      ['239.20.2.2', '239.120.2.2'],
    ]);
  });

  it('says where the packet times of two legs differ', () => {
    const text = description(
      'a=group:DUP a b',
      'm=audio 5004 RTP/AVP 97',
      'c=IN IP4 239.20.2.1/16',
      'a=rtpmap:97 L24/48000/2',
      'a=ptime:1',
      'a=mid:a',
      'm=audio 5004 RTP/AVP 97',
      'c=IN IP4 239.120.2.1/16',
      'a=rtpmap:97 L24/48000/2',
      'a=ptime:0.125',
      'a=mid:b',
    );
    expect(streamsOf(text)[0]?.legs.map((leg) => leg['packetTime'])).toEqual([undefined, '0.125 ms']);
  });
});

describe('problems', () => {
  it.each<readonly [string, string, string]>([
    ['', '1:1', 'empty'],
    ['o=- 1 1 IN IP4 10.20.1.31\nv=0', '1:1', 'does not begin with `v=0`'],
    ['v=1\n', '1:3', 'version `1`'],
    [description('a folded line'), '5:1', 'is no line of a session description'],
    [description('m=audio 5004'), '5:3', 'fewer than three parts'],
    [description('m=audio 70000 RTP/AVP 97', 'c=IN IP4 239.1.1.1/9'), '5:9', '`70000` is not a UDP port'],
    [description('m=audio 5004 RTP/AVP 200', 'c=IN IP4 239.1.1.1/9'), '5:22', 'payload type'],
    [description('m=audio 5004 RTP/AVP 97'), '5:3', 'no `c=` line'],
    [audio().replace('239.20.2.1/16', '239.20.2/16'), '6:10', '`239.20.2` is not an IPv4 address'],
    [audio().replace('239.20.2.1/16', '239.20.2.1/300'), '6:21', 'TTL `300`'],
    [audio().replace('239.20.2.1/16', '239.20.2.1/16/0'), '6:24', 'number of groups'],
    [audio().replace('239.20.2.1/16', '239.255.255.255/16/2'), '6:29', 'are not all multicast groups'],
    [audio().replace('239.20.2.1/16', '10.20.2.1/16/2'), '6:23', 'are not all multicast groups'],
    [audio().replace('IN IP4 239', 'IN IP5 239'), '6:6', 'neither `IP4` nor `IP6`'],
    [audio().replace('IN IP4 239', 'ATM IP4 239'), '6:3', 'not `IN`'],
    [audio('a=source-filter: incl IN IP4 239.20.2.1 10.20.1.'), '7:41', 'neither an address nor a host name'],
    [audio('a=source-filter: only IN IP4 239.20.2.1 10.20.1.31'), '7:18', 'neither `incl` nor `excl`'],
    [audio('a=source-filter: incl IN IP4 239.20.2.1'), '7:18', 'names no source'],
    [audio('a=rtpmap:97 L24/48k/2'), '7:17', 'sample rate `48k`'],
    [audio('a=rtpmap:97 L24/48000/2', 'a=ptime:1ms'), '8:9', 'packet time `1ms`'],
    [audio('a=rtpmap:97 raw/90000', 'a=fmtp:97 width=1920; height=1080p'), '8:30', '`height`'],
    [audio('a=rtpmap:97 raw/90000', 'a=fmtp:97 exactframerate=50/0'), '8:26', 'zero or infinite'],
    [audio('a=rtpmap:97 raw/90000', 'a=fmtp:97 MAXUDP=9000'), '8:18', 'not from 1 to 8960'],
    [audio('a=mid:a').replace('t=0 0', 't=0 0\r\na=group:DUP a c'), '5:15', '`c` is not in this session'],
    [audio('a=mid:a').replace('t=0 0', 't=0 0\r\na=group:DUP a a'), '5:15', 'named twice'],
    [description('m=video 5004/3 RTP/AVP 31', 'c=IN IP4 239.1.1.1/9/2'), '5:9', 'do not pair up'],
    [description('c=IN IP4 239.1.1.1/9', 'c=IN IP4 239.1.1.2/9', 'm=audio 5004 RTP/AVP 0'), '6:3', 'second `c=` line'],
  ])('%j: %s', (text, place, what) => {
    const result = readSdp('heron.sdp', text);
    expect(result.document).toBeUndefined();
    expect(problemsOf(result)).toHaveLength(1);
    expect(problemsOf(result)[0]).toContain(what);
    expect(problemsOf(result)[0]?.split(' ')[0]).toBe(place);
    expect(result.problems[0]?.instead).not.toBe('');
    expect(result.problems[0]?.at.file).toBe('heron.sdp');
  });

  it('reports every place once, ten at most', () => {
    const media = ['m=audio 5004 RTP/AVP 97'];
    expect(readSdp('a.sdp', description('c=IN IP4 239.1/1', ...media, ...media)).problems).toHaveLength(1);
    expect(readSdp('a.sdp', description(...Array.from({ length: 50 }, () => 'nonsense'))).problems).toHaveLength(10);
  });

  it('refuses a line that asks for more streams than memory holds', () => {
    const media = Array.from({ length: 100 }, () => 'm=audio 5004 RTP/AVP 97');
    const began = performance.now();
    const result = readSdp('a.sdp', description('c=IN IP4 239.1.1.1/9/1000', ...media));
    expect(performance.now() - began).toBeLessThan(2000);
    expect(problemsOf(result)).toHaveLength(1);
    expect(problemsOf(result)[0]).toContain('more than 20000 stream legs');
  });

  it('is linear in the length of a mid', () => {
    const began = performance.now();
    readSdp('a.sdp', audio(`a=mid:${';'.repeat(200_000)}x`, `a=mid:x${' '.repeat(200_000)}y`));
    expect(performance.now() - began).toBeLessThan(2000);
  });

  it('is linear in media and filters', () => {
    const count = 10_000;
    const groups = Array.from({ length: count }, (_, i) => `239.1.${i >> 8}.${i & 255}`);
    const filters = groups.map((group) => `a=source-filter: incl IN IP4 ${group} 10.1.1.1`);
    const media = groups.map((group, i) => ['m=audio 5004 RTP/AVP 0', `c=IN IP4 ${group}/9`, `a=mid:m${i}`]);
    const began = performance.now();
    const streams = streamsOf(description(...filters, ...media.flat()));
    expect(performance.now() - began).toBeLessThan(5000);
    expect(streams).toHaveLength(count);
    expect(streams.every(({ legs }) => legs[0]?.['source'] === '10.1.1.1')).toBe(true);
  });
});

describe('whatever the bytes', () => {
  const line = fc.oneof(
    fc.constantFrom(...CAMERA),
    fc.constantFrom('c=IN IP4 239.1.1.250/16/20', 'm=audio 5004/2 RTP/AVP 97', 'a=ssrc-group:DUP 1 2', 'a=mid:red'),
    fc
      .tuple(fc.constantFrom('c=', 'm=', 'a=source-filter:', 'a=fmtp:96 ', 'a=rtpmap:96 ', 's=', 'o=', ''), fc.string())
      .map((parts) => parts.join('')),
  );
  const descriptions = fc
    .tuple(fc.array(line, { maxLength: 30 }), fc.constantFrom('\n', '\r\n', '\r'))
    .map(([lines, end]) => ['v=0', ...lines].join(end));

  it('never throws', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), descriptions), (text) => {
        const result = readSdp('any.sdp', text);
        expect(result.document !== undefined || result.problems.length > 0).toBe(true);
        expect(result.problems.length).toBeLessThanOrEqual(10);
      }),
      { numRuns: 2000 },
    );
  });

  it('spans give back each value, and the tree is a plan', () => {
    let read = 0;
    fc.assert(
      fc.property(descriptions, (text) => {
        const result = readSdp('any.sdp', text);
        if (result.document === undefined) return;
        read++;
        for (const { key, value, text: written } of leavesOf(documentOf(result))) {
          if (
            ['source', 'ttl', 'payloadType', 'width', 'height', 'frameRate', 'sampling', 'mediaClock'].includes(key)
          ) {
            expect(written).toBe(String(value));
          } else if (key === 'packetTime') expect(`${written} ms`).toBe(value);
        }
      }),
      { numRuns: 2000 },
    );
    expect(read).toBeGreaterThan(100);
  });
});
