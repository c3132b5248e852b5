import { describe, expect, it } from 'vitest';
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { documentOf, leavesOf } from '../tools/tree-checks.js';
import { CAMERA, type Stream, streamsOf, description, audio } from '../tools/sdp-streams.js';

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
