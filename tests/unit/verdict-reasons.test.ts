/** Each reason for which a receiver leg is not delivered or not followed, and the finding that explains it. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { listFailures } from '../../src/answers/failures.js';
import { addUpDelays } from '../../src/answers/delay.js';
import { traceStream } from '../../src/answers/trace.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { reportDelayText } from '../../src/reporters/delay.js';
import { reportFailuresText } from '../../src/reporters/failures.js';
import { reportTraceText } from '../../src/reporters/trace.js';

interface Change {
  readonly vlan?: object;
  readonly other?: object;
  readonly link?: object;
  readonly links?: readonly object[];
  readonly core9?: object;
  readonly leaf9?: object;
  readonly cam?: object;
  readonly sender?: object;
  readonly leg?: object;
  readonly mon?: object;
  readonly takes?: string | undefined;
  readonly receives?: object;
  /** No receiver at all. */
  readonly bare?: boolean;
  readonly more?: readonly object[];
}

const ELSEWHERE = { vlan: 'other', port: 'core/20' };
const ROUTED = { routing: { mode: 'pim-sm', routers: ['core'], rp: [{ address: '10.20.10.1' }] } };

/** A camera on one switch, a monitor on the next. */
function rig(change: Change = {}): object {
  return {
    rig: 'Heron',
    networks: [{ name: 'red', role: 'media', leg: 1 }],
    vlans: [
      {
        name: 'video',
        id: 210,
        network: 'red',
        igmp: { snooping: true, version: 3, querier: [{ on: 'core', address: '10.20.10.1' }] },
        ...change.vlan,
      },
      { name: 'other', id: 300, network: 'red', ...change.other },
    ],
    switches: [
      {
        name: 'core',
        ports: [
          { name: '1-8', rate: '25G', access: 'video' },
          { name: '9', rate: '100G', ...(change.core9 ?? { trunk: ['video'] }) },
          { name: '20', rate: '25G', access: 'other' },
        ],
      },
      {
        name: 'leaf',
        ports: [
          { name: '1-8', rate: '25G', access: 'video' },
          { name: '9', rate: '100G', ...(change.leaf9 ?? { trunk: ['video'] }) },
          { name: '20', rate: '25G', access: 'other' },
        ],
      },
    ],
    links: change.links ?? [{ name: 'R1', ends: ['core/9', 'leaf/9'], rate: '100G', ...change.link }],
    formats: [
      {
        name: 'v',
        coding: 'st2110-20',
        width: 1920,
        height: 1080,
        frameRate: 50,
        sampling: 'YCbCr-4:2:2',
        depth: 10,
      },
    ],
    devices: [
      {
        name: 'cam',
        interfaces: [
          { name: 'red', vlan: 'video', address: '10.20.10.11/24', port: 'leaf/1', rate: '25G', ...change.cam },
        ],
        senders: [
          {
            name: 'video',
            format: 'v',
            legs: [{ interface: 'red', group: '239.192.10.11', port: 5004, ttl: 64, ...change.leg }],
            ...change.sender,
          },
        ],
      },
      {
        name: 'mon',
        interfaces: [
          { name: 'red', vlan: 'video', address: '10.20.10.12/24', port: 'core/1', rate: '25G', ...change.mon },
        ],
        receivers:
          change.bare === true
            ? []
            : [
                {
                  name: 'in',
                  ...('takes' in change ? {} : { takes: 'cam/video' }),
                  ...(change.receives ?? { interfaces: ['red'] }),
                },
              ],
      },
      ...(change.more ?? []),
    ],
  };
}

/** A further camera at the first one's switch, with the same group unless it says otherwise. */
function second(leg: object, address = '10.20.10.13'): object {
  return {
    name: 'cam-2',
    interfaces: [{ name: 'red', vlan: 'video', address: `${address}/24`, port: 'leaf/3', rate: '25G' }],
    senders: [{ name: 'video', format: 'v', legs: [{ interface: 'red', group: '239.192.10.11', ttl: 64, ...leg }] }],
  };
}

function input(change: Change): { readonly name: string; readonly text: string } {
  return { name: 'plan.json', text: JSON.stringify(rig(change)) };
}

function verdict(change: Change): string {
  const { receivers, problems } = lintInputs([input(change)], RULES, { today: '2026-06-01' });
  expect(problems).toEqual([]);
  const [denied] = receivers?.notDelivered ?? [];
  if (denied !== undefined) return `${denied.denial}: ${denied.finding?.rule ?? 'no rule'}`;
  return receivers?.notFollowed[0]?.lacks ?? 'delivered';
}

function takesGroup(leg: object): Pick<Change, 'takes' | 'receives'> {
  return { takes: undefined, receives: { legs: [{ interface: 'red', ...leg }] } };
}

describe('a receiver leg', () => {
  it.each<[string, Change]>([
    ['delivered', {}],
    ['delivered', takesGroup({ group: '239.192.10.11' })],
    ['delivered', { mon: ELSEWHERE, vlan: ROUTED, other: ROUTED }],
    ['no link: links/vlans-differ', { core9: { trunk: ['other'] } }],
    ['no link: links/vlans-differ', { link: { vlans: ['other'] } }],
    ['no link: vlans/no-path', { core9: { trunk: ['other'] }, leaf9: { trunk: ['other'] } }],
    ['other source: receivers/group-differs', { receives: { legs: [{ interface: 'red', source: '10.20.10.99' }] } }],
    ['other group: receivers/group-differs', { receives: { legs: [{ interface: 'red', group: '239.192.10.12' }] } }],
    ['other UDP port: receivers/port-differs', { receives: { legs: [{ interface: 'red', port: 5006 }] } }],
    ['other UDP port: receivers/port-differs', takesGroup({ group: '239.192.10.11', port: 5006 })],
    ['nobody sends: receivers/nobody-sends', takesGroup({ group: '239.192.10.12' })],
    ['no querier: igmp/no-querier', { vlan: { igmp: { snooping: true, version: 3 } } }],
    ['not bound: groups/not-bound', { vlan: { forwarding: 'static' } }],
    ['delivered', { vlan: { forwarding: 'controlled' } }],
    [
      'refused join: igmp/version-too-old',
      { leg: { group: '232.1.10.11' }, receives: { legs: [{ interface: 'red' }] }, mon: { igmpVersion: 2 } },
    ],
    ['delivered', { mon: { igmpVersion: 2 } }],
    ['port outside VLAN: ports/vlan-differs', { cam: { port: 'leaf/20' } }],
    ['port outside VLAN: ports/vlan-differs', { mon: { port: 'core/20' } }],
    ['not routed: vlans/not-routed', { mon: ELSEWHERE, other: ROUTED }],
    ['time to live: streams/ttl-too-small', { mon: ELSEWHERE, vlan: ROUTED, other: ROUTED, leg: { ttl: 1 } }],
    [
      'no rendezvous point: igmp/no-rendezvous-point',
      {
        mon: ELSEWHERE,
        vlan: { routing: { mode: 'pim-sm', routers: ['core'] } },
        other: { routing: { mode: 'pim-sm', routers: ['core'] } },
      },
    ],
    [
      'refused join: igmp/ssm-any-join',
      { leg: { group: '232.1.10.11' }, receives: { legs: [{ interface: 'red', join: 'any' }] } },
    ],
    ['not multicast: groups/not-multicast', { leg: { group: '10.20.10.12' } }],
    ['two senders: groups/two-senders', { more: [second({ port: 5004 })] }],
    ['two senders: groups/two-senders', { more: [second({})], ...takesGroup({ group: '239.192.10.11' }) }],
    ['delivered', { more: [second({ port: 5006 })] }],
    [
      'delivered',
      { more: [second({ port: 5004 })], receives: { legs: [{ interface: 'red', source: '10.20.10.11' }] } },
    ],
    ['duplicate address: hosts/duplicate-address', { more: [second({ group: '239.192.10.13' }, '10.20.10.11')] }],
    ['duplicate address: hosts/duplicate-address', { more: [second({ group: '239.192.10.13' }, '10.20.10.12')] }],
    ['delivered', { more: [second({ group: '239.192.10.13' })] }],
    ['unusable address: hosts/network-or-broadcast', { cam: { address: '10.20.10.255/24' } }],
    ['unusable address: hosts/network-or-broadcast', { mon: { address: '10.20.10.0/24' } }],
    ['unusable address: hosts/special-purpose', { mon: { address: '127.0.0.1/24' } }],
    ['delivered', { mon: { address6: 'ff02::5/64' } }],
    ['unusable source: sources/not-unicast', { leg: { source: '239.1.1.1' } }],
    ['unusable MAC: hosts/unusable-mac', { cam: { mac: '01:00:5e:00:00:01' } }],
    ['packet size: capacity/packet-over-mtu', { vlan: { mtu: 1000 } }],
    ['packet size: capacity/packet-over-mtu', { core9: { trunk: ['video'], mtu: 1000 } }],
    ['delivered', { mon: { port: 'leaf/2' }, core9: { trunk: ['video'], mtu: 1000 } }],
    ['VLAN id: vlans/id-out-of-range', { vlan: { id: 4095 } }],
    ['delivered', { vlan: { id: 4095 }, mon: { port: 'leaf/2' } }],
    ['time to live: streams/ttl-too-small', { leg: { ttl: 0 } }],
    ['source', { leg: { group: '232.1.10.11' }, cam: { address: undefined, dhcp: true } }],
    ['refused join: sources/ssm-without-source', { leg: { group: '232.1.10.11' }, cam: { address: undefined } }],
    ['link', { links: [] }],
    ['routing', { mon: ELSEWHERE }],
    ['router', { mon: ELSEWHERE, vlan: { routing: { mode: 'pim-sm' } }, other: { routing: { mode: 'pim-sm' } } }],
    ['delivered', { leg: { group: undefined, unicast: '10.20.10.12' } }],
    ['group', { leg: { group: undefined } }],
    ['sender port', { cam: { port: undefined } }],
    ['receiver port', { mon: { port: undefined } }],
    ['sender VLAN', { cam: { vlan: undefined, network: 'red', port: undefined } }],
    ['receiver interface', { receives: { legs: [{ vlan: 'video' }] } }],
    ['receiver interface', { mon: { name: 'blue', vlan: undefined, port: undefined }, receives: {} }],
    ['sender leg', { receives: { legs: [{ interface: 'red' }, { vlan: 'other' }] } }],
    ['rate', { sender: { format: undefined } }],
    ['stream', { takes: undefined }],
  ])('%s', (expected, change) => {
    expect(verdict(change)).toBe(expected);
  });
});

const PAGE = { version: '0', width: 100, colour: false };

function traced(change: Change): string {
  const loaded = loadPlan([input(change)]);
  const result = traceStream(loaded, 'cam/video', lintInputs([input(change)], RULES, { today: '2026-06-01' }));
  if ('unknown' in result) throw new Error('no such stream');
  return reportTraceText(result, PAGE).replace(/\s+/g, ' ');
}

describe('a trace', () => {
  it('opens with the findings of the stream and denies what they deny', () => {
    const text = traced({ mon: { port: 'core/20' } });
    expect(text).toContain('Findings ERROR ports/vlan-differs: ');
    expect(text).toContain('Not reached mon/in: the switch port of the receiver does not carry video (210)');
    expect(text).not.toContain('joined by mon/in');
    expect(traced({})).toContain('Findings lint finds nothing about this stream');
  });

  it('says at least where a stream has no known rate, and never nothing', () => {
    expect(traced({})).not.toContain('at least');
    expect(traced({ sender: { format: undefined } })).toContain('load not known, of 100 Gbit/s');
  });
});

describe('failures and delays', () => {
  it.each<[string, Change, string]>([
    ['receivers', { bare: true }, 'no receivers: list what each device receives'],
    ['links between switches', { links: [] }, 'list `links`'],
  ])('without %s are not judged, by name', (_, change, said) => {
    const loaded = loadPlan([input(change)]);
    const failures = listFailures(loaded);
    const delays = addUpDelays(loaded);
    if ('unknown' in failures || 'unknown' in delays) throw new Error('nothing was asked by name');
    expect(reportFailuresText(failures, PAGE)).toContain(said);
    expect(reportFailuresText(failures, PAGE)).not.toContain('Nothing takes anything off air.');
    expect(reportDelayText(delays, PAGE)).toContain(said);
  });
});
