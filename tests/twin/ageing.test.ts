/**
 * When memberships are forgotten, and when a standby queries, after a querier is cut off: timelines against Linux bridges,
 * with timers of seconds and cuts at many phases of them.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildTimeline, losables, type Moment } from '../../src/model/timeline/index.js';
import { modelOf } from '../tools/network-plans.js';
import { skipped } from '../tools/outside.js';
import { Lab, whyNoLab } from './lab.js';
import { ageingPlan } from './ageing-plan.js';
import { membershipS, otherQuerierPresentS } from './timers.js';

const IGMP = { queryIntervalS: 2, queryResponseIntervalS: 1, robustness: 2 };
const GROUP = '239.1.1.1';
const PAIRS = 16;
/** Even pairs have a standby, odd ones have none. */
const hasStandby = (pair: number): boolean => pair % 2 === 0;
const WARM_UP_S = 9;
/** Cuts come at phases of the query interval that differ from pair to pair. */
const cutAfterS = (pair: number): number => WARM_UP_S + (pair / PAIRS) * 2 * IGMP.queryIntervalS;
const WATCH_S = 9;
const POLL_MS = 100;
/** What polling, starting programs and a busy machine add. */
const LATE_S = 0.5;

/** Joins the group at an interface and says when a query comes there, by the system's monotonic clock. */
const HOST = `
import socket, struct, sys, time
name, group = sys.argv[1:3]
index = socket.if_nametoindex(name)
member = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
member.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, struct.pack('4s4si', socket.inet_aton(group), b'\\0' * 4, index))
raw = socket.socket(socket.AF_PACKET, socket.SOCK_RAW, socket.htons(0x0800))
raw.bind((name, 0))
while True:
    frame = raw.recv(2048)
    head = 14 + 4 * (frame[14] & 15)
    if frame[23] == 2 and frame[head] == 0x11:
        print(socket.inet_ntoa(frame[26:30]), time.monotonic(), flush=True)
`;

function planOf(standby: boolean): object {
  const switches = ['a', 'b'].map((name) => ({
    name,
    snooping: true,
    noQuerier: 'prune',
    unregistered: 'drop',
    spanningTree: 'none',
    ports: [
      { name: '1-8', access: 'red' },
      { name: '9', trunk: ['red'] },
    ],
    addresses: [{ vlan: 'red', address: `10.0.0.${name === 'a' ? '251' : '252'}/24` }],
  }));
  const queriers = [
    { on: 'a', address: '10.0.0.251' },
    { on: 'b', address: '10.0.0.252' },
  ].slice(0, standby ? 2 : 1);
  return ageingPlan({
    timers: IGMP,
    queriers,
    switches,
    links: [{ name: 'R1', ends: ['a/9', 'b/9'] }],
    at: 'b',
    group: GROUP,
  });
}

/** The span of a moment of the loss of the link. */
function spanOf(standby: boolean, is: (what: Moment['what']) => boolean): readonly [number, number] {
  const model = modelOf(planOf(standby));
  const lost = losables(model.plan, model.timing).find(({ name }) => name === 'R1');
  if (lost === undefined) throw new Error('the link can not be lost');
  const moment = buildTimeline(model, lost).moments.find(({ what }) => is(what));
  if (moment?.when.kind !== 'known') throw new Error('the moment has no known time');
  return [moment.when.fromS, moment.when.toS];
}

const AGED = spanOf(false, (what) => what.kind === 'dark' && what.why === 'ageing');
const TAKEN_OVER = spanOf(true, (what) => what.kind === 'querier takes over');

describe('the spans', () => {
  it('are those of RFC 3376 §8.4 and §8.5, from a query interval before to a response interval after', () => {
    const membership = membershipS(IGMP);
    expect(AGED).toEqual([membership - IGMP.queryIntervalS, membership + IGMP.queryResponseIntervalS]);
    const other = otherQuerierPresentS(IGMP);
    expect(TAKEN_OVER).toEqual([other - IGMP.queryIntervalS, other]);
  });
});

const missing = whyNoLab('python3');

describe.skipIf(missing !== undefined)(`ageing of Linux bridges${skipped(missing)}`, () => {
  const goneS: (number | undefined)[] = [];
  const takenS: (number | undefined)[] = [];

  beforeAll(async () => {
    await Lab.with(async (lab) => {
      await lab.run(
        'sh',
        [
          '-c',
          'for s in all default; do echo 1 > /proc/sys/net/ipv4/conf/$s/accept_local; echo 0 > /proc/sys/net/ipv4/conf/$s/rp_filter; done',
        ],
        { mostMs: 5000 },
      );
      const pairs = Array.from({ length: PAIRS }, (_, pair) => pair);
      await lab.ip(pairs.flatMap(linksOf));
      const heard = new Map<number, string>();
      for (const pair of pairs)
        lab.start('python3', ['-c', HOST, `h${String(pair)}`, GROUP], (text) => {
          heard.set(pair, (heard.get(pair) ?? '') + text);
        });
      const start = performance.now();
      const cutS: number[] = [];
      const cutAt: number[] = [];
      const seen: boolean[] = [];
      const endS = WARM_UP_S + 2 * IGMP.queryIntervalS + WATCH_S;
      while ((performance.now() - start) / 1000 < endS) {
        const nowS = (performance.now() - start) / 1000;
        for (const pair of pairs) {
          if (cutS[pair] !== undefined || nowS < cutAfterS(pair)) continue;
          await lab.ip([`link set l${String(pair)} down`]);
          cutS[pair] = (performance.now() - start) / 1000;
          cutAt[pair] = Number(process.hrtime.bigint()) / 1e9;
        }
        const held = await memberships(lab);
        const atS = (performance.now() - start) / 1000;
        for (const pair of pairs) {
          if (held.has(`b${String(pair)}`)) seen[pair] = true;
          else if (seen[pair] === true && goneS[pair] === undefined)
            goneS[pair] = atS - (cutS[pair] ?? Number.POSITIVE_INFINITY);
        }
        await sleep(POLL_MS);
      }
      for (const pair of pairs) {
        const since = cutAt[pair] ?? 0;
        const times = [...(heard.get(pair) ?? '').matchAll(/^10\.0\.0\.252 (\S+)$/gm)].map(([, text]) => Number(text));
        const first = times.find((time) => time > since);
        takenS[pair] = first === undefined ? undefined : first - since;
      }
    });
  }, 120_000);

  const all = Array.from({ length: PAIRS }, (_, pair) => pair);

  // Else nothing was cut at another phase.
  it('are cut at many phases', () => {
    const spread = (times: readonly (number | undefined)[]): number => {
      const known = times.flatMap((one) => one ?? []);
      return Math.max(...known) - Math.min(...known);
    };
    expect(spread(goneS.filter((_, pair) => !hasStandby(pair)))).toBeGreaterThan(IGMP.queryIntervalS / 4);
    expect(spread(takenS)).toBeGreaterThan(IGMP.queryIntervalS / 4);
  });

  it.each(all.filter((pair) => !hasStandby(pair)))('pair %i forgets its member within the span', (pair) => {
    expect(goneS[pair]).toBeGreaterThanOrEqual(AGED[0] - LATE_S);
    expect(goneS[pair]).toBeLessThanOrEqual(AGED[1] + LATE_S);
    expect(takenS[pair]).toBeUndefined();
  });

  it.each(all.filter(hasStandby))('the standby of pair %i queries within the span, and keeps the member', (pair) => {
    expect(takenS[pair]).toBeGreaterThanOrEqual(TAKEN_OVER[0] - LATE_S);
    expect(takenS[pair]).toBeLessThanOrEqual(TAKEN_OVER[1] + LATE_S);
  });
});

/** A bridge that queries, one beside it with the host, and the link between them. */
function linksOf(pair: number): readonly string[] {
  const cs = (seconds: number): string => String(100 * seconds);
  const timers = [
    `mcast_query_interval ${cs(IGMP.queryIntervalS)}`,
    `mcast_startup_query_interval ${cs(IGMP.queryIntervalS)}`,
    `mcast_query_response_interval ${cs(IGMP.queryResponseIntervalS)}`,
    `mcast_membership_interval ${cs(membershipS(IGMP))}`,
    `mcast_querier_interval ${cs(otherQuerierPresentS(IGMP))}`,
    'mcast_query_use_ifaddr 1',
  ].join(' ');
  const [a, b, l, h] = ['a', 'b', 'l', 'h'].map((letter) => `${letter}${String(pair)}`);
  return [
    `link add name ${a ?? ''} type bridge mcast_snooping 1 mcast_querier 1 ${timers}`,
    `link add name ${b ?? ''} type bridge mcast_snooping 1 mcast_querier ${hasStandby(pair) ? '1' : '0'} ${timers}`,
    `address add 10.0.0.251/24 dev ${a ?? ''}`,
    `address add 10.0.0.252/24 dev ${b ?? ''}`,
    `link add name ${l ?? ''} type veth peer name ${l ?? ''}p`,
    `link add name ${h ?? ''} type veth peer name ${h ?? ''}p`,
    `link set ${l ?? ''} master ${a ?? ''}`,
    `link set ${l ?? ''}p master ${b ?? ''}`,
    `link set ${h ?? ''}p master ${b ?? ''}`,
    `address add 10.0.0.12/24 dev ${h ?? ''}`,
    ...[a, b, l, `${l ?? ''}p`, `${h ?? ''}p`, h].map((name) => `link set ${name ?? ''} up`),
  ];
}

/** Names of the bridges that hold a member of the group. */
async function memberships(lab: Lab): Promise<ReadonlySet<string>> {
  const text = await lab.run('bridge', ['mdb', 'show'], { mostMs: 5000 });
  return new Set(
    [...text.matchAll(/dev (b\d+) port h\d+p grp (\S+)/g)].flatMap(([, name, group]) =>
      group === GROUP ? (name ?? '') : [],
    ),
  );
}
