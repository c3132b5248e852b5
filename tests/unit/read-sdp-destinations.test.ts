/** Where described streams go, what is wrong with descriptions, and whatever the bytes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';
import { CAMERA, streamsOf, description, audio } from '../tools/sdp-streams.js';
import { CONSTANT, growth, LINEAR } from '../tools/growth.js';

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
    const asking = (groups: number): string => description(`c=IN IP4 239.1.1.1/9/${groups}`, ...media);
    // No longer the more it asks for, once it is too much.
    expect(growth(4_000, asking, (text) => readSdp('a.sdp', text), CONSTANT)).toBeLessThan(CONSTANT);
    const result = readSdp('a.sdp', asking(1000));
    expect(problemsOf(result)).toHaveLength(1);
    expect(problemsOf(result)[0]).toContain('more than 20000 stream legs');
  });

  it('is linear in the length of a mid', () => {
    const long = (size: number): string => audio(`a=mid:${';'.repeat(size)}x`, `a=mid:x${' '.repeat(size)}y`);
    expect(growth(200_000, long, (text) => readSdp('a.sdp', text))).toBeLessThan(LINEAR);
  });

  it('is linear in media and filters', () => {
    const many = (count: number): string => {
      const groups = Array.from({ length: count }, (_, i) => `239.1.${i >> 8}.${i & 255}`);
      const filters = groups.map((group) => `a=source-filter: incl IN IP4 ${group} 10.1.1.1`);
      const media = groups.map((group, i) => ['m=audio 5004 RTP/AVP 0', `c=IN IP4 ${group}/9`, `a=mid:m${i}`]);
      return description(...filters, ...media.flat());
    };
    expect(growth(10_000, many, (text) => readSdp('a.sdp', text))).toBeLessThan(LINEAR);
    const streams = streamsOf(many(10_000));
    expect(streams).toHaveLength(10_000);
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
