/**
 * Single lines of published session descriptions, each with its file, put into the shortest description that can hold
 * them: what the reader makes of them, what the library `sdp-transform` makes of them, and what the rules say. The whole
 * files are read in `sdp-published.test.ts` and `published-lint.test.ts` where they are at hand.
 */
import { parse } from 'sdp-transform';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { documentOf, leavesOf, problemsOf } from '../tools/tree-checks.js';

interface Leg {
  readonly group?: string;
  readonly unicast?: string;
  readonly source?: string;
  readonly port?: number;
  readonly payloadType?: number;
  readonly ttl?: number;
  readonly referenceClock?: string;
  readonly mediaClock?: string;
}

function description(lines: readonly string[]): string {
  return ['v=0', 'o=- 123456 11 IN IP4 192.168.100.2', 's=Heron', 't=0 0', ...lines, ''].join('\r\n');
}

function legOf(lines: readonly string[]): Leg | undefined {
  const { value } = documentOf(readSdp('heron.sdp', description(lines)));
  return (value as { readonly streams: readonly { readonly legs: readonly Leg[] }[] }).streams[0]?.legs[0];
}

describe('connection and media lines, as sdp-transform reads them', () => {
  it.each([
    // m=, c=, and a=source-filter or nothing
    [
      'sdp-transform st2110-20.sdp, leg 1',
      'm=video 50000 RTP/AVP 112',
      'c=IN IP4 239.100.9.10/32',
      'a=source-filter:incl IN IP4 239.100.9.10 192.168.100.2',
    ],
    [
      'sdp-transform st2110-20.sdp, leg 2',
      'm=video 50020 RTP/AVP 112',
      'c=IN IP4 239.101.9.10/32',
      'a=source-filter:incl IN IP4 239.101.9.10 192.168.101.2',
    ],
    [
      'sdp-transform st2022-6.sdp',
      'm=video 2004 RTP/AVP 98',
      'c=IN IP4 239.0.0.1/32',
      'a=source-filter: incl IN IP4 239.0.0.1 192.168.20.20',
    ],
    [
      'AMWA IS-05 receiver-active-get-200.json',
      'm=video 5010 RTP/AVP 103',
      'c=IN IP4 232.250.98.80/32',
      'a=source-filter: incl IN IP4 232.250.98.80 172.29.226.25',
    ],
    [
      'AMWA BCP-006-01 jpeg-xs.sdp',
      'm=video 30000 RTP/AVP 112',
      'c=IN IP4 224.1.1.1/64',
      'a=source-filter: incl IN IP4 224.1.1.1 192.168.1.2',
    ],
    [
      'AMWA BCP-006-04 mpeg_ts_rtp.sdp, whose filter names another group',
      'm=video 5004 RTP/AVP 33',
      'c=IN IP4 239.255.0.1/32',
      'a=source-filter: incl IN IP4 224.1.1.1 192.168.1.1',
    ],
    ['RFC 4566 §5, the seminar', 'm=audio 49170 RTP/AVP 0', 'c=IN IP4 224.2.17.12/127', undefined],
    ['RFC 8866 §5.7', 'm=audio 49170 RTP/AVP 0', 'c=IN IP4 233.252.0.1/127', undefined],
    ['RFC 7273 §4.8 and §5.4 use this group', 'm=audio 5004 RTP/AVP 96', 'c=IN IP4 233.252.0.1/64', undefined],
    ['sdp-transform normal.sdp', 'm=audio 54400 RTP/SAVPF 0 96', 'c=IN IP4 203.0.113.1', undefined],
  ])('%s', (_file, media, connection, filter) => {
    const lines = [media, connection, ...(filter === undefined ? [] : [filter])];
    const [theirs] = parse(description(lines)).media;
    const [address = '', ttl] = theirs?.connection?.ip.split('/') ?? [];
    const named = theirs?.sourceFilter;
    const ours = legOf(lines);
    expect(ours?.group ?? ours?.unicast).toBe(address);
    expect(ours?.ttl).toBe(ttl === undefined ? undefined : Number(ttl));
    expect(ours?.port).toBe(theirs?.port);
    expect(ours?.payloadType).toBe(Number(String(theirs?.payloads).split(' ')[0]));
    expect(ours?.source).toBe(named?.destAddress === address ? named.srcList : undefined);
  });

  it('have their group, source, port, type and time to live where the text has them', () => {
    const text = description([
      'm=video 50000 RTP/AVP 112',
      'c=IN IP4 239.100.9.10/32',
      'a=source-filter:incl IN IP4 239.100.9.10 192.168.100.2',
    ]);
    const keys = ['group', 'source', 'port', 'payloadType', 'ttl'];
    const leaves = leavesOf(documentOf(readSdp('heron.sdp', text))).filter(({ key }) => keys.includes(key));
    expect(leaves.map(({ key }) => key).toSorted()).toEqual(keys.toSorted());
    for (const { value, text: spanned } of leaves) expect(spanned).toBe(String(value));
  });

  it('with 0.0.0.0 give no stream (RFC 3264 §8.4; sdp-transform invalid.sdp)', () => {
    expect(legOf(['m=audio 1 RTP/AVP 0', 'c=IN IP4 0.0.0.0'])).toBeUndefined();
  });
});

describe('clock lines', () => {
  it.each([
    ['ts-refclk-media.sdp', 'a=ts-refclk:ntp=203.0.113.10', 'ntp=203.0.113.10'],
    ['ts-refclk-media.sdp', 'a=ts-refclk:ptp=IEEE802.1AS-2011:39-A7-94-FF-FE-07-CB-D0', undefined],
    ['ts-refclk-sess.sdp', 'a=ts-refclk:ntp=/traceable/', 'ntp=/traceable/'],
    ['st2110-20.sdp', 'a=ts-refclk:ptp=IEEE1588-2008:39-A7-94-FF-FE-07-CB-D0:37', undefined],
    ['BCP-006-01 jpeg-xs.sdp', 'a=ts-refclk:localmac=40-a3-6b-a0-2b-d2', undefined],
  ])('%s: %s', (_file, line, clock = line.slice('a=ts-refclk:'.length)) => {
    expect(legOf(['c=IN IP4 233.252.0.1/64', 'm=audio 5004 RTP/AVP 96', line])?.referenceClock).toBe(clock);
  });

  it('of a medium replace that of the session (RFC 7273 §4.8; ts-refclk-media.sdp)', () => {
    const lines = ['c=IN IP4 233.252.0.1/64', 'a=ts-refclk:local', 'm=audio 49170 RTP/AVP 0'];
    expect(legOf([...lines, 'a=ts-refclk:ntp=203.0.113.10'])?.referenceClock).toBe('ntp=203.0.113.10');
  });

  it.each(['direct=963214424', 'direct=963214424 rate=1000/1001', 'direct=0'])(
    'a=mediaclk:%s is kept as written (RFC 7273 §5.4; mediaclk-ptp-v2.sdp, -w-rate.sdp, st2110-20.sdp)',
    (clock) => {
      const lines = ['c=IN IP4 233.252.0.1/64', 'm=audio 5004 RTP/AVP 96', `a=mediaclk:${clock}`];
      expect(legOf(lines)?.mediaClock).toBe(clock);
    },
  );
});

describe('lines that gortc/sdp must refuse (its testdata/sdp_session_ex_err….txt)', () => {
  it.each([
    // The line, the column of its fault
    ['err5', 'c=IN IP4', 3],
    ['err15', 'm=invalid', 3],
    ['err41', 'm=audio  49170', 3],
    ['err42', 'm=audio NaN/49170 RTP/AVP 0', 9],
    ['err43', 'm=audio 49170/NaN RTP/AVP 0', 15],
    ['err46', 'c=IN IP4 224.2.17.12/NaNttl/127', 22],
    ['err48', 'c=IN IP4 224.2.17.12/100/NaNNrAddr', 26],
    ['err49', 'c=IN IP6 ::1/NaNNrAddr', 14],
  ])('%s: %s', (_name, line, column) => {
    const lines = line.startsWith('m=') ? ['c=IN IP4 224.2.17.12/127', line] : ['m=audio 49170 RTP/AVP 0', line];
    const problems = problemsOf(readSdp('heron.sdp', description(lines)));
    expect(problems.map((problem) => problem.split(' ')[0])).toEqual([`6:${column}`]); // after the four lines of all
  });

  it.each(['v=NaN', 'v=1337'])('%s', (line) => {
    const problems = problemsOf(readSdp('heron.sdp', description([]).replace('v=0', line)));
    expect(problems.map((problem) => problem.split(' ')[0])).toEqual(['1:3']);
  });
});

describe('groups in published examples that a rig cannot use', () => {
  it.each([
    ['AMWA BCP-006-01 jpeg-xs.sdp', '224.1.1.1/64', 'groups/reserved-block', 'RFC 5771 §13'],
    ['RFC 4566 §5, the seminar', '224.2.17.12/127', 'groups/reserved-block', 'RFC 5771 §7.1'],
    ['sdp-transform st2022-6.sdp', '239.0.0.1/32', 'groups/floods', 'RFC 1112 §6.4, RFC 4541 §4: 224.0.0.1'],
  ])('%s: %s gives %s (%s)', (_file, group, rule) => {
    const text = description(['m=video 2004 RTP/AVP 98', `c=IN IP4 ${group}`, 'a=rtpmap:98 SMPTE2022-6/27000000']);
    const result = lintInputs([{ name: 'heron.sdp', text, format: 'sdp' }], RULES, { today: '2026-06-01' });
    expect(result.crashed).toEqual([]);
    expect(result.findings.map((one) => [one.rule, one.at.line])).toContainEqual([rule, 6]);
  });
});
