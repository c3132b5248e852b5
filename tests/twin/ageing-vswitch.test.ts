/**
 * When memberships are forgotten after the only querier falls silent: a timeline against Open vSwitch, whose ageing time is
 * set to the membership interval of RFC 3376 §8.4, with queriers that stop at many phases of their interval.
 */
import { existsSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildTimeline, losables } from '../../src/model/timeline/index.js';
import { modelOf } from '../tools/network-plans.js';
import { skipped } from '../tools/outside.js';
import { Lab, whyNoLab } from './lab.js';
import { ageingPlan } from './ageing-plan.js';
import { membershipS } from './timers.js';

/** The least ageing time of Open vSwitch is 15 s. */
const IGMP = { queryIntervalS: 5, queryResponseIntervalS: 5, robustness: 2 };
const GROUP = '239.1.1.1';
const BRIDGES = 6;
const WARM_UP_S = 12;
const cutAfterS = (bridge: number): number => WARM_UP_S + (bridge / BRIDGES) * IGMP.queryIntervalS;
const WATCH_S = 23;
const POLL_MS = 250;
/** What polling, starting programs and a busy machine add; Open vSwitch ages once a second. */
const LATE_S = 1.5;

/** Sends IGMPv2 general queries (RFC 2236 §2, with the router alert of RFC 2113) at an interface until it is killed. */
const ASKER = `
import socket, struct, sys, time
name, interval, response = sys.argv[1], float(sys.argv[2]), float(sys.argv[3])
def check(data):
    total = sum(struct.unpack('!%dH' % (len(data) // 2), data))
    while total >> 16: total = (total & 0xffff) + (total >> 16)
    return ~total & 0xffff
def build():
    igmp = struct.pack('!BBH4s', 0x11, int(10 * response), 0, b'\\0' * 4)
    igmp = igmp[:2] + struct.pack('!H', check(igmp)) + igmp[4:]
    head = struct.pack('!BBHHHBBH4s4s', 0x46, 0xc0, 32, 0, 0, 1, 2, 0, socket.inet_aton('10.0.0.1'), socket.inet_aton('224.0.0.1')) + bytes([0x94, 4, 0, 0])
    head = head[:10] + struct.pack('!H', check(head)) + head[12:]
    return bytes.fromhex('01005e000001') + bytes.fromhex('020000000001') + bytes.fromhex('0800') + head + igmp
raw = socket.socket(socket.AF_PACKET, socket.SOCK_RAW, socket.htons(0x0800))
raw.bind((name, 0))
while True:
    raw.send(build())
    time.sleep(interval)
`;

/** Joins the group at an interface and stays. */
const HOST = `
import socket, struct, sys, time
member = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
member.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, struct.pack('4s4si', socket.inet_aton(sys.argv[2]), b'\\0' * 4, socket.if_nametoindex(sys.argv[1])))
time.sleep(600)
`;

const PLAN = ageingPlan({
  timers: IGMP,
  queriers: [{ on: 'asker', address: '10.0.0.1' }],
  switches: [
    {
      name: 'a',
      snoopingKey: 'group',
      noQuerier: 'prune',
      unregistered: 'drop',
      ports: [{ name: '1-8', access: 'red' }],
    },
  ],
  at: 'a',
  devices: [{ name: 'asker', interfaces: [{ name: 'red', vlan: 'red', port: 'a/1', address: '10.0.0.1/24' }] }],
  group: GROUP,
});

function agedSpan(): readonly [number, number] {
  const model = modelOf(PLAN);
  const lost = losables(model.plan, model.timing).find(({ name }) => name === 'asker');
  if (lost === undefined) throw new Error('the querier can not be lost');
  const moment = buildTimeline(model, lost).moments.find(({ what }) => what.kind === 'dark' && what.why === 'ageing');
  if (moment?.when.kind !== 'known') throw new Error('nothing ages at a known time');
  return [moment.when.fromS, moment.when.toS];
}

const AGED = agedSpan();

it('the span is that of RFC 3376 §8.4, from a query interval before to a response interval after', () => {
  const membership = membershipS(IGMP);
  expect(AGED).toEqual([membership - IGMP.queryIntervalS, membership + IGMP.queryResponseIntervalS]);
});

const missing = whyNoLab('python3', 'ovsdb-server', 'ovs-vswitchd', 'ovs-vsctl');

describe.skipIf(missing !== undefined)(`ageing of Open vSwitch${skipped(missing)}`, () => {
  const goneS: (number | undefined)[] = [];

  beforeAll(async () => {
    await Lab.with(async (lab) => {
      const bridges = Array.from({ length: BRIDGES }, (_, bridge) => bridge);
      await lab.run(
        'sh',
        ['-c', 'echo 0 > /proc/sys/net/ipv4/conf/all/rp_filter; echo 1 > /proc/sys/net/ipv4/conf/all/accept_local'],
        {
          mostMs: 5000,
        },
      );
      const change = await startSwitches(lab);
      await lab.ip(
        bridges.flatMap((bridge) =>
          ['q', 'h'].flatMap((letter) => {
            const name = `${letter}${String(bridge)}`;
            return [
              `link add name ${name} type veth peer name ${name}p`,
              ...(letter === 'h' ? [`address add 10.0.0.12/24 dev ${name}`] : []),
              `link set ${name} up`,
              `link set ${name}p up`,
            ];
          }),
        ),
      );
      await change(
        bridges.flatMap((bridge) => {
          const name = `o${String(bridge)}`;
          return [
            ...[
              '--',
              'add-br',
              name,
              '--',
              'set',
              'bridge',
              name,
              'datapath_type=netdev',
              'mcast_snooping_enable=true',
            ],
            `other_config:mcast-snooping-aging-time=${String(membershipS(IGMP))}`,
            'other_config:mcast-snooping-disable-flood-unregistered=true',
            ...['--', 'add-port', name, `q${String(bridge)}p`, '--', 'add-port', name, `h${String(bridge)}p`],
          ];
        }),
      );
      for (const bridge of bridges) lab.start('python3', ['-c', HOST, `h${String(bridge)}`, GROUP]);
      const askers = bridges.map((bridge) =>
        lab.start('python3', [
          ...['-c', ASKER, `q${String(bridge)}`],
          ...[IGMP.queryIntervalS, IGMP.queryResponseIntervalS].map(String),
        ]),
      );
      const start = performance.now();
      const nowS = (): number => (performance.now() - start) / 1000;
      const cutS: number[] = [];
      const seen: boolean[] = [];
      while (nowS() < WARM_UP_S + IGMP.queryIntervalS + WATCH_S) {
        for (const bridge of bridges) {
          if (cutS[bridge] !== undefined || nowS() < cutAfterS(bridge)) continue;
          askers[bridge]?.kill('SIGKILL');
          cutS[bridge] = nowS();
        }
        for (const bridge of bridges) {
          if (goneS[bridge] !== undefined) continue;
          const table = await lab.run('ovs-appctl', ['-t', `${lab.folder}/vs.ctl`, 'mdb/show', `o${String(bridge)}`], {
            mostMs: 5000,
          });
          if (table.includes(GROUP)) seen[bridge] = true;
          else if (seen[bridge] === true && cutS[bridge] !== undefined) goneS[bridge] = nowS() - cutS[bridge];
        }
        await sleep(POLL_MS);
      }
    });
  }, 120_000);

  it.each(Array.from({ length: BRIDGES }, (_, bridge) => bridge))(
    'bridge %i forgets its member within the span',
    (bridge) => {
      expect(goneS[bridge]).toBeGreaterThanOrEqual(AGED[0] - LATE_S);
      expect(goneS[bridge]).toBeLessThanOrEqual(AGED[1] + LATE_S);
    },
  );
});

/** One database and one switch daemon in a lab; gives what changes the database. */
async function startSwitches(lab: Lab): Promise<(words: readonly string[]) => Promise<void>> {
  const { folder } = lab;
  const db = `unix:${folder}/db.sock`;
  await lab.run('ovsdb-tool', ['create', `${folder}/conf.db`, '/usr/share/openvswitch/vswitch.ovsschema'], {
    mostMs: 10_000,
  });
  lab.start('ovsdb-server', [`${folder}/conf.db`, `--remote=p${db}`, `--unixctl=${folder}/db.ctl`]);
  const vsctl = async (words: readonly string[]): Promise<void> => {
    await lab.run('ovs-vsctl', [`--db=${db}`, '--timeout=50', ...words], { mostMs: 55_000 });
  };
  await until(() => existsSync(`${folder}/db.sock`));
  await vsctl(['--no-wait', 'init']);
  lab.start('env', [
    `OVS_RUNDIR=${folder}`,
    `OVS_LOGDIR=${folder}`,
    'ovs-vswitchd',
    db,
    '--disable-system',
    `--unixctl=${folder}/vs.ctl`,
    `--log-file=${folder}/vs.log`,
  ]);
  await until(() => existsSync(`${folder}/vs.ctl`));
  return vsctl;
}

async function until(holds: () => boolean): Promise<void> {
  for (let tries = 0; !holds(); tries++) {
    if (tries > 400) throw new Error('Open vSwitch does not start');
    await sleep(50);
  }
}
