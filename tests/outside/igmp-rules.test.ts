/**
 * The rules on IGMP and MLD against what others published: the timer formulas and defaults of RFC 2236 §8, RFC 3376 §8
 * and RFC 3810 §9, the timers a router display shows, the limits of the coded fields, and the querier election of
 * RFC 3376 §6.6.2 and RFC 3810 §7.6.2. Vectors are read from `../shared/data` where that folder lies beside the project.
 *
 * Longer than a file should be: published values, document by document, and what the rules say of each.
 */
import { skipped, textOf, unpublished } from '../tools/outside.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import type { Finding } from '../../src/lint/finding.js';
import type { Rule } from '../../src/lint/rule.js';
import { createModel } from '../../src/model/model.js';
import { electionWinner, type Protocol } from '../../src/model/network/group-segments.js';
import {
  DEFAULT_TIMERS,
  LONGEST_QUERY_INTERVAL_S,
  LONGEST_RESPONSE_S,
  membershipInterval,
  otherQuerierPresentInterval,
  timersOf,
} from '../../src/model/network/timers.js';
import type { GroupManagement } from '../../src/plan/types.js';
import { formatSeconds } from '../../src/values/quantity.js';
import noBackup from '../../rules/igmp/no-backup-querier/rule.js';
import type { Facts as NoBackupFacts } from '../../rules/igmp/no-backup-querier/words.js';
import noQuerier from '../../rules/igmp/no-querier/rule.js';
import type { Facts as NoQuerierFacts } from '../../rules/igmp/no-querier/words.js';
import noRendezvousPoint from '../../rules/igmp/no-rendezvous-point/rule.js';
import rendezvousPointRange from '../../rules/igmp/rendezvous-point-range/rule.js';
import anyJoin from '../../rules/igmp/ssm-any-join/rule.js';
import timers from '../../rules/igmp/timers/rule.js';
import versionTooOld from '../../rules/igmp/version-too-old/rule.js';
import wrongQuerierWins from '../../rules/igmp/wrong-querier-wins/rule.js';

const SEED = 20260714;

describe('timers', () => {
  it('have the defaults of RFC 3376 §8.1, §8.2, §8.3 and §8.8, which are those of RFC 2236 §8 and RFC 3810 §9', () => {
    expect(timersOf(undefined)).toEqual({
      robustness: 2,
      queryIntervalS: 125,
      queryResponseIntervalS: 10,
      lastMemberQueryIntervalS: 1,
    });
    expect(DEFAULT_TIMERS).toEqual(timersOf(undefined));
  });

  it('give 260 s (RFC 3376 §8.4) and 255 s (§8.5) with the defaults', () => {
    expect(membershipInterval(undefined)).toBe(260);
    expect(otherQuerierPresentInterval(undefined)).toBe(255);
    expect(formatSeconds(260)).toBe('4 min 20 s');
    expect(formatSeconds(255)).toBe('4 min 15 s');
  });

  it.each([
    // from RFC 3376 §8.4 and §8.5: RV x QI + QRI, RV x QI + QRI / 2
    { robustness: 3, queryInterval: 60, queryResponseInterval: 10, membership: 190, other: 185 },
    // as a router's manual shows them for a query interval of 100 s
    { robustness: 2, queryInterval: 100, queryResponseInterval: 10, membership: 210, other: 205 },
  ])(
    'with robustness $robustness, $queryInterval s and $queryResponseInterval s give $membership s and $other s',
    ({ membership, other, ...settings }) => {
      expect([membershipInterval(managed(settings)), otherQuerierPresentInterval(managed(settings))]).toEqual([
        membership,
        other,
      ]);
    },
  );

  it('keep a takeover before the end of membership whatever they are: RFC 3376 §8.4 less §8.5 is half the response interval', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 1, max: 31744 }),
        fc.integer({ min: 1, max: 3174 }),
        (robustness, queryInterval, queryResponseInterval) => {
          const settings = managed({ robustness, queryInterval, queryResponseInterval });
          expect(membershipInterval(settings) - otherQuerierPresentInterval(settings)).toBe(queryResponseInterval / 2);
        },
      ),
      { seed: SEED },
    );
  });
});

const VECTORS = 'vectors/multicast-vectors.json';
const missing = unpublished(VECTORS);

describe.skipIf(missing !== undefined)(`timer vectors${skipped(missing)}`, () => {
  interface TimerVector {
    readonly rv: number;
    readonly qi: number;
    readonly qri: number;
    readonly gmi: number;
    readonly oqpi: number;
  }
  const read =
    missing === undefined
      ? (JSON.parse(textOf(VECTORS)) as {
          readonly igmpTimers: readonly TimerVector[];
          readonly qqic: readonly (readonly [number, number])[];
        })
      : { igmpTimers: [], qqic: [] };

  it('give the intervals of each row', () => {
    expect(read.igmpTimers.length).toBeGreaterThanOrEqual(3);
    for (const { rv, qi, qri, gmi, oqpi } of read.igmpTimers) {
      const settings = managed({ robustness: rv, queryInterval: qi, queryResponseInterval: qri });
      expect([membershipInterval(settings), otherQuerierPresentInterval(settings)]).toEqual([gmi, oqpi]);
    }
  });

  it('have the longest query interval as the greatest code', () => {
    expect(Math.max(...read.qqic.map(([, seconds]) => seconds))).toBe(LONGEST_QUERY_INTERVAL_S);
  });

  it('are what the finding on a missing querier says', () => {
    for (const { rv, qi, qri, gmi } of read.igmpTimers) {
      const settings = { snooping: true, robustness: rv, queryInterval: qi, queryResponseInterval: qri };
      const [finding] = lint(plan({ igmp: settings }), noQuerier);
      const facts = finding?.facts as NoQuerierFacts | undefined;
      expect(facts).toMatchObject({ form: 'prune', protocol: 'igmp', membershipS: gmi });
      expect(facts?.vlan.name).toBe('red-video');
    }
  });
});

describe('limits of coded fields', () => {
  it('are those of RFC 2236 §2.2 (8 bits of tenths), RFC 2710 §3.4 (16 bits of milliseconds) and RFC 3376 §4.1.7', () => {
    expect(LONGEST_RESPONSE_S.igmp).toBe((2 ** 8 - 1) / 10);
    expect(LONGEST_RESPONSE_S.mld).toBe((2 ** 16 - 1) / 1000);
    // §4.1.7: QQI = (mant | 0x10) << (exp + 3), here for code 255
    expect(LONGEST_QUERY_INTERVAL_S).toBe((0xf | 0x10) << (0x7 + 3));
  });

  it.each([
    [{ igmp: { version: 2, queryResponseInterval: 25.5 } }, 0],
    [{ igmp: { version: 2, queryResponseInterval: 25.6 } }, 1],
    [{ igmp: { version: 3, queryResponseInterval: 25.6 } }, 0],
    [{ mld: { version: 1, queryResponseInterval: 65.5 } }, 0],
    [{ mld: { version: 1, queryResponseInterval: 66 } }, 1],
    [{ mld: { version: 2, queryResponseInterval: 66 } }, 0],
    [{ igmp: { queryInterval: 31744 } }, 0],
    [{ igmp: { queryInterval: 31745 } }, 1],
  ])('%j gives %i findings', (settings, count) => {
    expect(lint({ vlans: [{ name: 'red-video', ...settings }] }, timers)).toHaveLength(count);
  });

  it('RFC 3376 §8.3 says less than the query interval, §8.14.2 says not more: equal is a warning, greater an error', () => {
    const severities = [9, 10, 11].map((response) =>
      lint(
        { vlans: [{ name: 'red-video', igmp: { queryInterval: 10, queryResponseInterval: response } }] },
        timers,
      ).map(({ severity }) => severity),
    );
    expect(severities).toEqual([[], ['warning'], ['error']]);
  });

  it('RFC 3376 §8.1: robustness should not be 1', () => {
    expect(
      [1, 2, 7].map((robustness) => lint({ vlans: [{ name: 'red-video', igmp: { robustness } }] }, timers).length),
    ).toEqual([1, 0, 0]);
  });
});

describe('the querier election', () => {
  it('goes to the lowest address as a number (RFC 3376 §6.6.2), 0.0.0.0 left out (RFC 4541 §2.1.1)', () => {
    expect(winnerOf(['10.20.10.254', '10.20.10.2'], 'igmp')).toBe('q2');
    expect(winnerOf(['10.20.10.10', '10.20.10.9'], 'igmp')).toBe('q2');
    expect(winnerOf(['10.20.9.255', '10.20.10.1'], 'igmp')).toBe('q1');
    expect(winnerOf(['0.0.0.0', '10.20.10.9'], 'igmp')).toBe('q2');
    expect(winnerOf(['200.0.0.1', '10.0.0.1'], 'igmp')).toBe('q2');
  });

  it('goes to the lowest link-local address for MLD (RFC 3810 §5.1.14, §7.6.2)', () => {
    expect(winnerOf(['fe80::20', 'fe80::3'], 'mld')).toBe('q2');
    expect(winnerOf(['fd20::1', 'fe80::3'], 'mld')).toBe('q2');
  });

  it('comes out as if each querier fell silent on hearing a lower one, message by message (RFC 3376 §6.6.2)', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 254 }), { minLength: 1, maxLength: 5 }),
        fc.array(fc.nat(4), { minLength: 20, maxLength: 20 }),
        (hosts, turns) => {
          const querying = new Set(hosts);
          // Everybody starts as querier; each in turn queries if it still is one, and whoever is higher falls silent.
          for (const turn of [...turns.map((one) => one % hosts.length), ...hosts.keys()]) {
            const speaker = hosts[turn];
            if (speaker === undefined || !querying.has(speaker)) continue;
            for (const one of hosts) if (one > speaker) querying.delete(one);
          }
          const left = [...querying];
          expect(left).toHaveLength(1);
          expect(
            winnerOf(
              hosts.map((host) => `10.20.10.${host}`),
              'igmp',
            ),
          ).toBe(`q${hosts.indexOf(left[0] ?? 0) + 1}`);
        },
      ),
      { seed: SEED },
    );
  });

  it('is reported exactly when the first in the list loses it', () => {
    const found = (addresses: readonly string[]): number =>
      lint(withQueriers(addresses, 'igmp'), wrongQuerierWins).length;
    expect(found(['10.20.10.1', '10.20.10.2'])).toBe(0);
    expect(found(['10.20.10.2', '10.20.10.1'])).toBe(1);
  });
});

describe('a failing querier', () => {
  it('lets streams live 260 s from a report up to 10 s later, and a second one speak after 255 s: RFC 3376 §8.3 to §8.5', () => {
    const [finding] = lint(
      {
        networks: [{ name: 'red', leg: 1 }],
        vlans: [
          {
            name: 'red-video',
            network: 'red',
            igmp: { snooping: true, querier: [{ on: 'core', address: '10.20.10.1' }] },
          },
        ],
        switches: [
          { name: 'core', noQuerier: 'prune', ports: [{ name: '1', trunk: ['red-video'] }] },
          {
            name: 'leaf',
            noQuerier: 'prune',
            ports: [
              { name: '1-2', access: 'red-video' },
              { name: '9', trunk: ['red-video'] },
            ],
          },
        ],
        links: [{ ends: ['core/1', 'leaf/9'] }],
        devices: [
          {
            name: 'cam',
            interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/1' }],
            senders: [{ name: 'video', legs: [{ interface: 'red', group: '239.192.1.1' }] }],
          },
          {
            name: 'mon',
            interfaces: [{ name: 'red', vlan: 'red-video', port: 'leaf/2' }],
            receivers: [{ name: 'in', takes: 'cam/video' }],
          },
        ],
      },
      noBackup,
    );
    const facts = finding?.facts as NoBackupFacts | undefined;
    expect(facts).toMatchObject({ fate: 'prune', survivors: 1, assumed: [], forgottenS: 270, takeoverS: 255 });
    expect(facts?.querier?.name).toBe('core');
  });
});

describe('source-specific groups', () => {
  const stream = (group: string, receiver: object, vlan: object = {}): object => ({
    vlans: [{ name: 'red-video', ...vlan }],
    devices: [
      {
        name: 'cam',
        interfaces: [{ name: 'red', vlan: 'red-video', address: '10.20.10.11/24' }],
        senders: [{ name: 'video', legs: [{ interface: 'red', group }] }],
      },
      {
        name: 'mon',
        interfaces: [{ name: 'red', vlan: 'red-video' }],
        receivers: [{ name: 'in', takes: 'cam/video', legs: [{ interface: 'red', ...receiver }] }],
      },
    ],
  });

  it.each(['232.0.1.0', '232.255.255.255', '231.255.255.255', '233.0.0.0', '239.232.0.1'])(
    '%s may not be joined from any source exactly when it is in 232/8 (RFC 4607 §1, §5.2)',
    (group) => {
      expect(lint(stream(group, { join: 'any' }), anyJoin)).toHaveLength(group.startsWith('232.') ? 1 : 0);
    },
  );

  it('need IGMP 3 (RFC 3376 §1, RFC 4604 §2.2.3)', () => {
    const found = [1, 2, 3].map(
      (version) => lint(stream('232.1.1.1', {}, { igmp: { version } }), versionTooOld).length,
    );
    expect(found).toEqual([1, 1, 0]);
  });

  it.each([
    // RFC 4608 §2.4: 232/8 and more specific, while 224/4 is tolerated
    ['232.0.0.0/8', 1],
    ['232.1.0.0/16', 1],
    ['224.0.0.0/4', 0],
    ['232.0.0.0/7', 0],
    ['239.0.0.0/8', 0],
  ])('are not to be served by a rendezvous point: %s gives %i', (groups, count) => {
    expect(
      lint(
        {
          vlans: [{ name: 'red-video', routing: { mode: 'pim-sm', rp: [{ address: '10.0.0.1', groups: [groups] }] } }],
        },
        rendezvousPointRange,
      ),
    ).toHaveLength(count);
  });
});

describe('embedded rendezvous points', () => {
  const routed = (group: string): object => ({
    vlans: ['a', 'b'].map((name) => ({ name, routing: { mode: 'pim-sm', routers: ['core'] } })),
    switches: [{ name: 'core' }],
    devices: [
      {
        name: 'cam',
        interfaces: [{ name: 'red', vlan: 'a' }],
        senders: [{ name: 'video', legs: [{ interface: 'red', group }] }],
      },
      { name: 'mon', interfaces: [{ name: 'red', vlan: 'b' }], receivers: [{ name: 'in', takes: 'cam/video' }] },
    ],
  });

  it('need no other: the example group of RFC 3956 §5.1 carries its own, a plain one does not', () => {
    expect(lint(routed('ff7e:740:2001:db8:beef:feed::1'), noRendezvousPoint)).toHaveLength(0);
    expect(lint(routed('ff1e::1'), noRendezvousPoint)).toHaveLength(1);
  });
});

function managed(settings: object): GroupManagement {
  const management = loadPlan([
    { name: 'plan.json', text: JSON.stringify({ vlans: [{ name: 'red-video', igmp: settings }] }) },
  ]).plan.vlans[0]?.igmp;
  if (management === undefined) throw new Error('the plan lost its settings');
  return management;
}

function plan(vlan: object): object {
  return {
    vlans: [{ name: 'red-video', ...vlan }],
    devices: [
      {
        name: 'cam',
        interfaces: [{ name: 'red', vlan: 'red-video' }],
        senders: [{ name: 'video', legs: [{ interface: 'red', group: '239.192.1.1' }] }],
      },
    ],
  };
}

function withQueriers(addresses: readonly string[], protocol: Protocol): object {
  return {
    vlans: [
      {
        name: 'red-video',
        [protocol]: { querier: addresses.map((address, index) => ({ on: `q${index + 1}`, address })) },
      },
    ],
    switches: addresses.map((_, index) => ({ name: `q${index + 1}` })),
  };
}

function winnerOf(addresses: readonly string[], protocol: Protocol): string | undefined {
  const { plan: loaded } = loadPlan([{ name: 'plan.json', text: JSON.stringify(withQueriers(addresses, protocol)) }]);
  const segment = createModel(loaded).groupSegments.find((one) => one.protocol === protocol);
  return segment === undefined ? undefined : electionWinner(segment.candidates, protocol)?.on?.name;
}

function lint(one: object, rule: Rule): readonly Finding[] {
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify({ rig: 'Heron', ...one }) }], [rule], {
    today: '2026-06-01',
  });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}
