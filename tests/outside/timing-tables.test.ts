/**
 * Tables of the timing model against what was read elsewhere; the source stands beside each.
 *
 * Longer than a file should be: tables of published values and nothing else, which are read side by side.
 */
import { describe, expect, it } from 'vitest';
import {
  CLOCK_ACCURACY_NS,
  CLOCK_CLASSES,
  classesAfterLoss,
  classMeaning,
  neverFollows,
} from '../../src/model/timing/clock-quality.js';
import { followerLoad, leaderLoad } from '../../src/model/timing/message-load.js';
import {
  outOfProfile,
  profileNamed,
  PROFILES,
  PTP_ADDRESSES,
  settingRange,
  sharedRange,
  type ProfileKey,
} from '../../src/model/timing/profiles.js';
import { announceTolerance } from '../../src/model/timing/takeover-time.js';
import { ethernetAddress } from '../../src/model/groups/multicast-space/ethernet.js';
import { parseAddress } from '../../src/values/address.js';
import { formatClockIdentity, identityFromMac, parseClockIdentity } from '../../src/values/clock-identity.js';
import { formatMac, parseMac } from '../../src/values/mac.js';

/**
 * Defaults: announce, sync, delay request, peer delay request, timeout, domain. IEEE 1588: linuxptp configs/default.cfg.
 * ST 2059-2: committee draft of 2025-08-08 clause 6.7, with -2 for the announce interval of 2015 (vendor manuals). AES67
 * and AES-R16: a switch manual's table of media profiles; AES67 delay request from memory.
 */
const DEFAULTS: readonly (readonly [
  ProfileKey,
  announce: number,
  sync: number,
  delay: number | undefined,
  peer: number | undefined,
  timeout: number,
  domain: number,
])[] = [
  ['ieee1588-e2e', 1, 0, 0, undefined, 3, 0],
  ['ieee1588-p2p', 1, 0, undefined, 0, 3, 0],
  ['st2059-2:2015', -2, -3, -3, -3, 3, 127],
  ['st2059-2:2021', -2, -3, -3, -3, 3, 127],
  ['st2059-2:draft', 0, -3, -3, undefined, 3, 127],
  ['aes67', 1, -3, 0, 0, 3, 0],
  ['aes-r16', 0, -3, -3, undefined, 3, 0],
];

/** Ranges of announce, sync, delay request at sync -3, timeout. Sources as above; IEEE 1588's ranges from memory. */
const RANGES: readonly (readonly [ProfileKey, string, string, string, string])[] = [
  ['ieee1588-e2e', '0..4', '-1..1', '0..5', '2..10'],
  ['ieee1588-p2p', '0..4', '-1..1', '', '2..10'],
  ['st2059-2:2015', '-3..1', '-7..-1', '-3..2', '2..10'],
  ['st2059-2:2021', '-3..1', '-7..-1', '-3..2', '2..10'],
  ['st2059-2:draft', '-3..1', '-7..-1', '-3..2', '2..10'],
  ['aes67', '0..4', '-4..1', '-3..5', '2..10'],
  ['aes-r16', '0..1', '-4..-1', '-3..2', '2..10'],
];

describe('profiles', () => {
  it.each(DEFAULTS)('%s has its defaults', (key, announce, sync, delay, peer, timeout, domain) => {
    const one = PROFILES[key];
    const found = [
      one.logAnnounceInterval,
      one.logSyncInterval,
      one.logMinDelayReqInterval,
      one.logMinPdelayReqInterval,
      one.announceReceiptTimeout,
      one.domain,
    ].map((setting) => setting?.default.value);
    expect(found).toEqual([announce, sync, delay, peer, timeout, domain]);
    expect(
      [one.priority1, one.priority2].map((setting) => [setting.default.value, setting.least, setting.most]),
    ).toEqual([
      [128, 0, 255],
      [128, 0, 255],
    ]);
    expect([one.domain.least, one.domain.most]).toEqual([0, 127]);
  });

  it.each(RANGES)('%s has its ranges', (key, announce, sync, delay, timeout) => {
    const one = PROFILES[key];
    const words = [
      one.logAnnounceInterval,
      one.logSyncInterval,
      one.logMinDelayReqInterval,
      one.announceReceiptTimeout,
    ].map((setting) => {
      if (setting === undefined) return '';
      const { least, most } = settingRange(setting, -3);
      return `${least}..${most}`;
    });
    expect(words).toEqual([announce, sync, delay, timeout]);
  });

  it('have the identifiers of their documents', () => {
    expect(Object.values(PROFILES).map((one) => one.identifier?.value)).toEqual([
      '00-1B-19-00-01-00',
      '00-1B-19-00-02-00',
      '68-97-E8-00-01-00',
      '68-97-E8-00-01-00',
      '68-97-E8-00-01-00',
      '00-0B-5E-00-01-00',
      undefined,
    ]);
  });

  it('say for each default whether it was read and where', () => {
    for (const one of Object.values(PROFILES)) {
      for (const setting of [
        one.domain,
        one.priority1,
        one.priority2,
        one.logAnnounceInterval,
        one.logSyncInterval,
        one.announceReceiptTimeout,
      ]) {
        expect(setting.default.cites).not.toBe('');
        expect(['read', 'from memory']).toContain(setting.default.known);
      }
    }
  });

  /** Vectors worked out from the ranges above, by hand. */
  it.each([
    ['st2059-2:draft', -3, -7, -7, 3, []],
    ['st2059-2:draft', -4, -3, -3, 3, ['logAnnounceInterval']],
    ['st2059-2:draft', 0, -3, 2, 3, []],
    ['st2059-2:draft', 0, -3, 3, 3, ['logMinDelayReqInterval']],
    ['st2059-2:draft', 0, -3, -4, 3, ['logMinDelayReqInterval']],
    ['st2059-2:draft', 0, 0, 0, 3, ['logSyncInterval']],
    ['aes67', 0, -4, -3, 3, []],
    ['aes67', -1, -3, 0, 3, ['logAnnounceInterval']],
    ['aes67', 1, -5, 0, 3, ['logSyncInterval']],
    ['aes-r16', 2, -3, -3, 3, ['logAnnounceInterval']],
    ['aes-r16', 1, -1, 4, 3, []],
    ['ieee1588-e2e', 1, 0, 0, 3, []],
    ['ieee1588-e2e', 1, -3, 0, 3, ['logSyncInterval']],
    ['ieee1588-e2e', 1, 0, 0, 1, ['announceReceiptTimeout']],
    ['ieee1588-e2e', 1, 0, 0, 11, ['announceReceiptTimeout']],
  ] as const)(
    '%s admits or refuses announce %i, sync %i, delay request %i, timeout %i',
    (key, announce, sync, delay, timeout, refused) => {
      const found = outOfProfile(PROFILES[key], {
        logAnnounceInterval: announce,
        logSyncInterval: sync,
        logMinDelayReqInterval: delay,
        announceReceiptTimeout: timeout,
      });
      expect(found.map((one) => one.key)).toEqual(refused);
    },
  );

  /** Announce and sync of the combined profile equal a switch manual's; the rest is the intersection by hand. */
  it('share what lets one domain serve sound and picture', () => {
    const both = [PROFILES.aes67, PROFILES['st2059-2:draft']];
    expect(sharedRange(both, 'logAnnounceInterval', -3)).toEqual({ least: 0, most: 1 });
    expect(sharedRange(both, 'logSyncInterval', -3)).toEqual({ least: -4, most: -1 });
    expect([-4, -3, -2, -1].map((sync) => sharedRange(both, 'logMinDelayReqInterval', sync))).toEqual([
      { least: -3, most: 1 },
      { least: -3, most: 2 },
      { least: -2, most: 3 },
      { least: -1, most: 4 },
    ]);
    const all = [PROFILES['ieee1588-e2e'], ...both];
    expect(sharedRange(all, 'logSyncInterval', -1)).toEqual({ least: -1, most: -1 });
    expect(sharedRange(all, 'logMinDelayReqInterval', -1)).toEqual({ least: 0, most: 4 });
    expect(
      sharedRange([PROFILES['ieee1588-e2e'], PROFILES['st2059-2:draft']], 'logMinDelayReqInterval', -7),
    ).toBeUndefined();
  });

  it.each([
    ['ST 2059-2', '2015', 'st2059-2:2015'],
    ['SMPTE ST 2059-2:2021', undefined, 'st2059-2:2021'],
    ['ST 2059-2', undefined, 'st2059-2:2021'],
    ['ST2059-2', 'draft', 'st2059-2:draft'],
    ['AES67', undefined, 'aes67'],
    ['AES67-2018 media profile', undefined, 'aes67'],
    ['AES-R16-2016', undefined, 'aes-r16'],
    ['default', undefined, 'ieee1588-e2e'],
    ['IEEE 1588 default P2P', undefined, 'ieee1588-p2p'],
    ['conventions clock', undefined, undefined],
  ])('%s %s means %s', (name, edition, key) => {
    expect(profileNamed(name, edition)?.key).toBe(key);
  });
});

describe('addresses', () => {
  /** IANA multicast registries; multicast MACs as seen on the wire. */
  it('are those of the registries', () => {
    expect(PTP_ADDRESSES['udp-ipv4']).toMatchObject({
      primary: '224.0.1.129',
      peerDelay: '224.0.0.107',
      eventPort: 319,
      generalPort: 320,
    });
    expect(PTP_ADDRESSES['udp-ipv6']).toMatchObject({ primary: 'ff0e::181', peerDelay: 'ff02::6b' });
    expect(PTP_ADDRESSES.ethernet).toMatchObject({ primary: '01-1B-19-00-00-00', peerDelay: '01-80-C2-00-00-0E' });
    const macs = ['udp-ipv4', 'udp-ipv6'] as const;
    const seen = macs.flatMap((key) =>
      [PTP_ADDRESSES[key].primary, PTP_ADDRESSES[key].peerDelay].map((text) =>
        formatMac(ethernetAddress(parseAddress(text) ?? 0)),
      ),
    );
    expect(seen).toEqual(['01:00:5e:00:01:81', '01:00:5e:00:00:6b', '33:33:00:00:01:81', '33:33:00:00:00:6b']);
  });
});

describe('clock quality', () => {
  /** IEEE 1588-2008 Table 5, as the IEEE P1588e YANG module of 2023-08-14 names its values. */
  it('names the classes', () => {
    expect(CLOCK_CLASSES.map((one) => [one.value, one.timescale])).toEqual([
      [6, 'PTP'],
      [7, 'PTP'],
      [13, 'ARB'],
      [14, 'ARB'],
      [52, 'PTP'],
      [58, 'ARB'],
      [187, 'PTP'],
      [193, 'ARB'],
      [248, undefined],
      [255, undefined],
    ]);
    expect([6, 7, 13, 14, 52, 58, 127, 128, 187, 193, 248].map(neverFollows)).toEqual([
      true,
      true,
      true,
      true,
      true,
      true,
      true,
      false,
      false,
      false,
      false,
    ]);
  });

  /** Ranges from memory. */
  it('tells alternate profiles from reserved classes', () => {
    expect([68, 122, 133, 170, 216, 232].map(classMeaning)).toEqual(
      Array.from({ length: 6 }, () => 'defined by an alternate profile'),
    );
    expect([0, 5, 8, 51, 67, 123, 132, 171, 215, 233, 254].map(classMeaning)).toEqual(
      Array.from({ length: 11 }, () => 'reserved'),
    );
  });

  it('steps down in the order of the table', () => {
    expect(classesAfterLoss(6, undefined)).toEqual([7, 52]);
    expect(classesAfterLoss(6, 187)).toEqual([7, 187]);
    expect(classesAfterLoss(7, 187)).toEqual([187]);
    expect(classesAfterLoss(13, undefined)).toEqual([14, 58]);
    expect(classesAfterLoss(14, 187)).toEqual([193]);
    expect(classesAfterLoss(248, undefined)).toEqual([]);
  });

  /** The same YANG module: 0x17 1 ps to 0x30 10 s, each code worse than the one before. */
  it('orders the accuracy codes', () => {
    expect(CLOCK_ACCURACY_NS.size).toBe(0x30 - 0x17 + 1);
    expect(
      [0x17, 0x1d, 0x20, 0x21, 0x22, 0x23, 0x26, 0x29, 0x2f, 0x30].map((code) => CLOCK_ACCURACY_NS.get(code)),
    ).toEqual([0.001, 1, 25, 100, 250, 1000, 25e3, 1e6, 1e9, 1e10]);
    const values = [...CLOCK_ACCURACY_NS].sort(([a], [b]) => a - b).map(([, ns]) => ns);
    expect([...values].sort((a, b) => a - b)).toEqual(values);
  });

  /** linuxptp made this identity of this MAC; IEEE 1588-2008 7.5.2.2.2 from memory. */
  it('makes an identity of a MAC', () => {
    expect(identityFromMac(parseMac('02:00:00:00:00:0a') ?? 0)).toBe(parseClockIdentity('020000.fffe.00000a'));
    expect(formatClockIdentity(identityFromMac(parseMac('a1:b2:c3:d4:e5:f6') ?? 0))).toBe('A1-B2-C3-FF-FE-D4-E5-F6');
  });

  it.each([
    '39-A7-94-FF-FE-07-CB-D0',
    '39:a7:94:ff:fe:07:cb:d0',
    '39a7.94ff.fe07.cbd0',
    '39a794fffe07cbd0',
    '39a794.fffe.07cbd0',
  ])('reads %s', (text) => {
    expect(formatClockIdentity(parseClockIdentity(text) ?? 0n)).toBe('39-A7-94-FF-FE-07-CB-D0');
  });

  it.each(['39-A7-94-FF-FE-07-CB', '39-A7-94-FF-FE-07-CB-D0-00', '39-A7:94-FF-FE-07-CB-D0', 'g9a794fffe07cbd0', ''])(
    'refuses %j',
    (text) => {
      expect(parseClockIdentity(text)).toBeUndefined();
    },
  );
});

describe('patience', () => {
  /** A leader at +1 and followers at -2 with timeout 3 flapped on running daemons. */
  it('needs followers that wait longer than the leader is silent', () => {
    expect(announceTolerance(1, { logAnnounceInterval: -2, announceReceiptTimeout: 3 })).toBe('expires');
    expect(announceTolerance(0, { logAnnounceInterval: -1, announceReceiptTimeout: 3 })).toBe('no spare');
    expect(announceTolerance(0, { logAnnounceInterval: 0, announceReceiptTimeout: 2 })).toBe('fine');
    expect(announceTolerance(1, { logAnnounceInterval: 0, announceReceiptTimeout: 2 })).toBe('expires');
  });
});

describe('message load', () => {
  /**
   * Messages a second received and sent by the leader, received by a follower, then kbit/s received by a follower and in
   * all at the leader. Worked out from the counts of IEEE 1588 and the lengths seen on the wire.
   */
  it.each([
    [1, 0, -3, -3, 'multicast', 8, 25, 25, 22.8, 29.8],
    [50, 0, -3, -3, 'multicast', 400, 417, 809, 744, 751],
    [50, 0, -3, -3, 'unicast', 400, 417, 25, 22.8, 751],
    [200, 0, -3, -3, 'multicast', 1600, 1617, 3209, 2952, 2960],
    [200, 0, -3, -3, 'unicast', 1600, 1617, 25, 22.8, 2960],
    [200, 1, -3, 0, 'multicast', 200, 216.5, 415.5, 382, 383],
    [1000, 0, -3, -3, 'multicast', 8000, 8017, 16009, 14728, 14735],
    [200, -2, -7, -7, 'multicast', 25600, 25860, 51332, 47221, 47338],
  ] as const)(
    '%i followers at %i/%i/%i, %s',
    (followers, announce, sync, delay, delayRequests, rx, tx, followerRx, followerKbps, leaderKbps) => {
      const rates = {
        logAnnounceInterval: announce,
        logSyncInterval: sync,
        logMinDelayReqInterval: delay,
        followers,
        twoStep: true,
        delayRequests,
      };
      const leader = leaderLoad(rates);
      const follower = followerLoad(rates);
      expect([leader.receivedPerSecond, leader.sentPerSecond, follower.receivedPerSecond]).toEqual([
        rx,
        tx,
        followerRx,
      ]);
      expect(Math.abs(follower.receivedBps / 1000 / followerKbps - 1)).toBeLessThan(0.005);
      expect(Math.abs((leader.receivedBps + leader.sentBps) / 1000 / leaderKbps - 1)).toBeLessThan(0.005);
    },
  );

  /** Eight running followers at announce -2, sync and delay request -3: 61.3 requests and answers a second at the leader. */
  it('is what running daemons exchange', () => {
    const rates = {
      logAnnounceInterval: -2,
      logSyncInterval: -3,
      logMinDelayReqInterval: -3,
      followers: 8,
      twoStep: true,
      delayRequests: 'multicast',
    } as const;
    const { receivedPerSecond, sentPerSecond } = leaderLoad(rates);
    expect(Math.abs(receivedPerSecond / 61.3 - 1)).toBeLessThan(0.06);
    expect(Math.abs(sentPerSecond / (3.8 + 7.55 + 7.55 + 61.3) - 1)).toBeLessThan(0.06);
  });
});
