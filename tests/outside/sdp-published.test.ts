/**
 * The reader of session descriptions against published ones, against the library `sdp-transform`, and against the
 * worked examples of RFC 4570 and RFC 7104.
 *
 * Longer than a file should be: published values, document by document, and what the rules say of each.
 */
import { parse, type Media, type Session } from 'sdp-transform';
import { describe, expect, it } from 'vitest';
import { isMulticast, parseAddress } from '../../src/values/address.js';
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { filesIn, skipped, textOf, unpublished } from '../tools/outside.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';
import { timeOf } from '../tools/growth.js';

const missing = unpublished('sdp', 'nmos');

interface Leg {
  readonly group?: string;
  readonly unicast?: string;
  readonly source?: string;
  readonly port?: number;
  readonly payloadType?: number;
  readonly ttl?: number;
  readonly packetTime?: string;
  readonly referenceClock?: string;
  readonly mediaClock?: string;
}

interface Stream {
  readonly name: string;
  readonly essence?: string;
  readonly format?: Readonly<Record<string, unknown>>;
  readonly session?: string;
  readonly legs: readonly Leg[];
}

function streamsOf(text: string, name = 'rig/heron-test.sdp'): readonly Stream[] {
  return (documentOf(readSdp(name, text)).value as { readonly streams: readonly Stream[] }).streams;
}

function published(): readonly string[] {
  return [
    ...filesIn('sdp').filter((path) => !path.endsWith('LICENSE')),
    ...filesIn('nmos').filter((path) => path.endsWith('.sdp')),
  ];
}

describe.skipIf(missing !== undefined)(`published files${skipped(missing)}`, () => {
  it('takes no more time for each letter of one than of another', () => {
    const texts = published().map((path) => ({ path, text: textOf(path) }));
    const readAll = (): readonly number[] =>
      texts.map(({ path, text }) => timeOf(text, (one) => readSdp(path, one), 1));
    readAll();
    const runs = Array.from({ length: 5 }, readAll);
    // The shortest need some time as well.
    const perLetter = texts.map(
      ({ text }, index) => Math.min(...runs.map((times) => times[index] ?? 0)) / (text.length + 500),
    );
    const usual = perLetter.toSorted((a, b) => a - b)[Math.floor(texts.length / 2)] ?? 0;
    for (const [index, time] of perLetter.entries()) expect(time / usual, texts[index]?.path).toBeLessThan(100);
  });

  it('reads every one without throwing, to a valid tree or at most ten problems', () => {
    const files = published();
    expect(files.length).toBeGreaterThan(380); // 13 + 72 + 293 + 1 + 6 of formats.md §2
    let read = 0;
    for (const path of files) {
      const text = textOf(path);
      const result = readSdp(path, text);
      if (result.document === undefined) {
        expect(result.problems.length, path).toBeGreaterThan(0);
        expect(result.problems.length, path).toBeLessThanOrEqual(10);
        for (const { at, instead } of result.problems) {
          expect(at.line, path).toBeGreaterThanOrEqual(1);
          expect(at.column, path).toBeGreaterThanOrEqual(1);
          expect(instead, path).not.toBe('');
        }
      } else {
        documentOf(result);
        read++;
      }
    }
    expect(read).toBeGreaterThan(40);
  });

  it('gives garbage of the fuzz corpus one problem', () => {
    const corpus = filesIn('sdp/rfc-corpus/corpus').map(textOf);
    const garbage = corpus.filter((text) => !/^\s*v=\s*0\s*$/m.test(text));
    expect(garbage.length).toBeGreaterThan(250);
    for (const text of garbage) expect(readSdp('garbage.sdp', text).problems).toHaveLength(1);
  });

  const wellFormed = (missing === undefined ? published() : []).filter((name) =>
    /sdp-transform|nmos|_ex1|_full|example\.sdp|webrtc|mediac|lasttiming/.test(name),
  );

  it.each(wellFormed)('agrees with sdp-transform on %s', (name) => {
    const text = textOf(name);
    const ours = streamsOf(text, name).flatMap((stream) => stream.legs.map(summary));
    expect(ours).toEqual(legsByLibrary(parse(text)));
  });

  it('covers the files the comparison is meant for', () => {
    expect(wellFormed.length).toBeGreaterThanOrEqual(20);
  });

  it('leaves the ignored filter of BCP-006-04 mpeg_ts_rtp.sdp without effect (formats.md §1.6)', () => {
    const [stream] = streamsOf(textOf('nmos/bcp-006-04/examples/mpeg_ts_rtp.sdp'));
    expect(stream?.legs).toEqual([{ group: '239.255.0.1', port: 5004, payloadType: 33, ttl: 32 }]);
    expect(stream?.format).toEqual({ essence: 'video', coding: 'mpeg2-ts' });
  });

  it('shows the reserved group (formats.md §1.6) and rate (essence.md §2.1) of BCP-006-01 jpeg-xs.sdp', () => {
    const [stream] = streamsOf(textOf('nmos/bcp-006-01/examples/jpeg-xs.sdp'));
    expect(stream?.legs[0]?.group).toBe('224.1.1.1');
    expect(stream?.format).toEqual({
      essence: 'video',
      coding: 'st2110-22',
      width: 1280,
      height: 720,
      frameRate: '60000/1001',
      scan: 'progressive',
      sampling: 'YCbCr-4:2:2',
      depth: '10',
      rate: '116000 kbit/s',
    });
    expect(stream?.legs[0]?.referenceClock).toBe('localmac=40-a3-6b-a0-2b-d2');
  });

  it('reads both legs of sdp-transform st2110-20.sdp, whose ports differ (formats.md §2)', () => {
    const streams = streamsOf(textOf('sdp/sdp-transform/st2110-20.sdp'));
    const clocks = { referenceClock: 'ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:37', mediaClock: 'direct=0' };
    expect(streams).toEqual([
      {
        name: 'Example of a SMPTE ST2110-20 signal',
        session: '- 123456 IN IP4 192.168.100.2',
        format: {
          essence: 'video',
          coding: 'st2110-20',
          width: 1280,
          height: 720,
          frameRate: '60000/1001',
          scan: 'interlaced',
          sampling: 'YCbCr-4:2:2',
          depth: '10',
          packing: 'general',
        },
        legs: [
          { group: '239.100.9.10', source: '192.168.100.2', port: 50000, payloadType: 112, ttl: 32, ...clocks },
          { group: '239.101.9.10', source: '192.168.101.2', port: 50020, payloadType: 112, ttl: 32, ...clocks },
        ],
      },
    ]);
  });

  it('lets a media-level clock replace the session-level one in ts-refclk-media.sdp (RFC 7273 §4.8)', () => {
    const streams = streamsOf(textOf('sdp/sdp-transform/ts-refclk-media.sdp'));
    expect(streams.map(({ legs }) => legs[0]?.referenceClock)).toEqual([
      'ntp=203.0.113.10',
      'ptp=IEEE802.1AS-2011:39-A7-94-FF-FE-07-CB-D0',
    ]);
    const sessions = streamsOf(textOf('sdp/sdp-transform/ts-refclk-sess.sdp'));
    expect(sessions.map(({ legs }) => legs[0]?.referenceClock)).toEqual(['ntp=/traceable/', 'ntp=/traceable/']);
  });

  it('gives browser offers with 0.0.0.0 no stream (RFC 3264 §8.4)', () => {
    for (const name of ['hacky.sdp', 'ssrc.sdp', 'invalid.sdp']) {
      expect(streamsOf(textOf(`sdp/sdp-transform/${name}`)), name).toEqual([]);
    }
  });

  it.each([
    // Files gortc/sdp's own decoder must refuse (named `err`), those whose fault leaves open where a stream goes.
    ['sdp_session_ex_err5.txt', '8:3'], // c=IN IP4
    ['sdp_session_ex_err14.txt', '1:3'], // v=NaN
    ['sdp_session_ex_err15.txt', '15:3'], // m=invalid
    ['sdp_session_ex_err41.txt', '15:3'], // m=audio 49170
    ['sdp_session_ex_err42.txt', '15:9'], // m=audio NaN/49170
    ['sdp_session_ex_err43.txt', '15:15'], // m=audio 49170/NaN
    ['sdp_session_ex_err46.txt', '9:22'], // c=IN IP4 224.2.17.12/NaNttl
    ['sdp_session_ex_err48.txt', '9:26'], // c=IN IP4 224.2.17.12/100/NaNNrAddr
    ['sdp_session_ex_err49.txt', '9:14'], // c=IN IP6 ::1/NaNNrAddr
    ['spd_session_ex2.txt', '1:3'], // v=1337
  ])('refuses %s at %s', (name, place) => {
    const result = readSdp(name, textOf(`sdp/rfc-corpus/testdata/${name}`));
    expect(problemsOf(result).map((problem) => problem.split(' ')[0])).toEqual([place]);
  });
});

/** A leg in the words both readers share. */
interface Summary {
  readonly to: string | undefined;
  readonly ttl: number | undefined;
  readonly port: number | undefined;
  readonly payloadType: number | undefined;
  readonly source: string | undefined;
}

function summary(leg: Leg): Summary {
  return {
    to: leg.group ?? leg.unicast,
    ttl: leg.ttl,
    port: leg.port,
    payloadType: leg.payloadType,
    source: leg.source,
  };
}

/** The same from the library: it leaves the TTL in the address, and media without a destination in the list. */
function legsByLibrary(session: Session): readonly Summary[] {
  return session.media.flatMap((media: Media) => {
    const [address, ttl] = (media.connection ?? session.connection)?.ip.split('/') ?? [];
    if (address === undefined || address === '0.0.0.0') return [];
    if (!media.protocol.includes('RTP') || media.port === 0) return [];
    const filter = media.sourceFilter ?? session.sourceFilter;
    const applies = filter?.filterMode === 'incl' && (filter.destAddress === address || filter.destAddress === '*');
    const payload = String(media.payloads ?? '').split(' ')[0] ?? '';
    return [
      {
        to: address,
        ttl: ttl === undefined ? undefined : Number(ttl),
        port: media.port,
        payloadType: payload === '' ? undefined : Number(payload),
        source: applies ? filter.srcList.split(' ')[0] : undefined,
      },
    ];
  });
}

/** The lines RFC 4570 §3.2 leaves out of its excerpts, around the ones it gives. */
function session(...lines: readonly string[]): string {
  return ['v=0', 'o=- 1 1 IN IP4 192.0.2.10', 's=Example', 't=0 0', ...lines, ''].join('\r\n');
}

function legsOf(text: string): readonly (readonly (string | undefined)[])[] {
  return streamsOf(text).map(({ legs }) => legs.flatMap((leg) => [leg.group ?? leg.unicast, leg.source]));
}

describe('RFC 4570 §3.2, source filters', () => {
  it('§3.2.1: one source of one group', () => {
    const filter = 'a=source-filter: incl IN IP4 232.3.4.5 192.0.2.10';
    const text = session('c=IN IP4 232.3.4.5/127', filter, 'm=audio 5004 RTP/AVP 0');
    expect(legsOf(text)).toEqual([['232.3.4.5', '192.0.2.10']]);
  });

  it('§3.2.2: an excluded source of a unicast destination names no source', () => {
    const filter = 'a=source-filter: excl IN IP4 192.0.2.11 192.0.2.10';
    const text = session('c=IN IP4 192.0.2.11', filter, 'm=audio 5004 RTP/AVP 0');
    const [stream] = streamsOf(text);
    expect(stream?.legs).toEqual([{ unicast: '192.0.2.11', port: 5004, payloadType: 0 }]);
  });

  it('§3.2.3: a session-level filter for any destination', () => {
    const text = session(
      'a=source-filter: incl IN IP4 * 192.0.2.10',
      'm=audio 5004 RTP/AVP 0',
      'c=IN IP4 232.2.2.2/127',
      'm=video 5006 RTP/AVP 31',
      'c=IN IP4 232.4.4.4/63',
    );
    expect(legsOf(text)).toEqual([
      ['232.2.2.2', '192.0.2.10'],
      ['232.4.4.4', '192.0.2.10'],
    ]);
    expect(streamsOf(text).map(({ legs }) => legs[0]?.ttl)).toEqual([127, 63]);
  });

  it('§3.2.4: three contiguous groups, the second deliberately unfiltered', () => {
    const text = session(
      'c=IN IP4 224.2.1.1/127/3',
      'a=source-filter: incl IN IP4 224.2.1.1 192.0.2.10',
      'a=source-filter: incl IN IP4 224.2.1.3 192.0.2.42',
      'm=audio 5004 RTP/AVP 0',
    );
    expect(legsOf(text)).toEqual([
      ['224.2.1.1', '192.0.2.10'],
      ['224.2.1.2', undefined],
      ['224.2.1.3', '192.0.2.42'],
    ]);
  });

  it('§3.2.5: the number after an IPv6 group counts groups (RFC 8866 §5.7), so /127 is 127 of them', () => {
    const text = session(
      'c=IN IP6 FF0E::11A/127',
      'a=source-filter: incl IN IP6 FF0E::11A 2001:DB8:1:2:240:96FF:FE25:8EC9',
      'm=audio 5004 RTP/AVP 0',
    );
    const legs = legsOf(text);
    expect(legs).toHaveLength(127);
    expect(legs[0]).toEqual(['FF0E::11A', '2001:DB8:1:2:240:96FF:FE25:8EC9']);
    expect(legs[126]).toEqual(['ff0e::198', undefined]); // 0x11a + 126
  });

  it('§3.2.6: host names give a leg without addresses', () => {
    const text = session(
      'c=IN IP4 dst-1.example.com',
      'a=source-filter: incl IN * dst-1.example.com src-1.example.com src-2.example.com',
      'm=audio 5004 RTP/AVP 0',
    );
    expect(streamsOf(text)[0]?.legs).toEqual([{ port: 5004, payloadType: 0 }]);
  });

  it('§3.1: a media-level filter replaces every session-level one', () => {
    const text = session(
      'a=source-filter: incl IN IP4 * 192.0.2.10',
      'm=audio 5004 RTP/AVP 0',
      'c=IN IP4 232.2.2.2/127',
      'a=source-filter: incl IN IP4 232.9.9.9 192.0.2.77',
    );
    expect(legsOf(text)).toEqual([['232.2.2.2', undefined]]);
  });
});

describe('RFC 7104 §4, redundant streams', () => {
  const head = ['v=0', 'o=ali 1122334455 1122334466 IN IP4 dup.example.com', 's=DUP Grouping Semantics', 't=0 0'];

  it('§4.1: two sources of one group in one medium', () => {
    const text = [
      ...head,
      'm=video 30000 RTP/AVP 100',
      'c=IN IP4 233.252.0.1/127',
      'a=source-filter:incl IN IP4 233.252.0.1 198.51.100.1 198.51.100.2',
      'a=rtpmap:100 MP2T/90000',
      'a=ssrc:1000 cname:ch1@example.com',
      'a=ssrc:1010 cname:ch1@example.com',
      'a=ssrc-group:DUP 1000 1010',
      'a=mid:Ch1',
    ].join('\n');
    expect(legsOf(text)).toEqual([['233.252.0.1', '198.51.100.1', '233.252.0.1', '198.51.100.2']]);
  });

  it('§4.2: two groups from one source', () => {
    const text = [
      ...head,
      'a=group:DUP S1a S1b',
      'm=video 30000 RTP/AVP 100',
      'c=IN IP4 233.252.0.1/127',
      'a=source-filter:incl IN IP4 233.252.0.1 198.51.100.1',
      'a=rtpmap:100 MP2T/90000',
      'a=mid:S1a',
      'm=video 30000 RTP/AVP 101',
      'c=IN IP4 233.252.0.2/127',
      'a=source-filter:incl IN IP4 233.252.0.2 198.51.100.1',
      'a=rtpmap:101 MP2T/90000',
      'a=mid:S1b',
    ].join('\r\n');
    expect(streamsOf(text)).toEqual([
      {
        name: 'DUP Grouping Semantics',
        session: 'ali 1122334455 IN IP4 dup.example.com',
        format: { essence: 'video', coding: 'mpeg2-ts' },
        legs: [
          { group: '233.252.0.1', source: '198.51.100.1', port: 30000, payloadType: 100, ttl: 127 },
          { group: '233.252.0.2', source: '198.51.100.1', port: 30000, payloadType: 101, ttl: 127 },
        ],
      },
    ]);
  });

  it('§4.3: copies one after the other from one source are one leg', () => {
    const text = [
      ...head,
      'm=video 30000 RTP/AVP 100',
      'c=IN IP4 233.252.0.1/127',
      'a=source-filter:incl IN IP4 233.252.0.1 198.51.100.1',
      'a=rtpmap:100 MP2T/90000',
      'a=ssrc:1000 cname:ch1a@example.com',
      'a=ssrc:1010 cname:ch1a@example.com',
      'a=ssrc-group:DUP 1000 1010',
      'a=duplication-delay:50',
      'a=mid:Ch1',
    ].join('\n');
    expect(legsOf(text)).toEqual([['233.252.0.1', '198.51.100.1']]);
  });
});

describe.skipIf(missing !== undefined)(`spans in published files${skipped(missing)}`, () => {
  it('cover the group, source, port and payload type as the file writes them', () => {
    let checked = 0;
    for (const path of published()) {
      const { document } = readSdp(path, textOf(path));
      if (document === undefined) continue;
      for (const { key, value, text } of leavesOf(document)) {
        if (key === 'source' || key === 'port' || key === 'payloadType' || key === 'ttl') {
          expect(text, path).toBe(String(value));
          checked++;
        } else if (key === 'group' || key === 'unicast') {
          const address = parseAddress(String(value));
          expect(address !== undefined && isMulticast(address), path).toBe(key === 'group');
          expect(text, path).toBe(value); // no published file counts groups
          checked++;
        }
      }
    }
    expect(checked).toBeGreaterThan(100);
  });
});
