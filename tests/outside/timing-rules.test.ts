/**
 * The rules on timing against what others published or measured: the elections that linuxptp 3.1.1 daemons held
 * (cases F, G, I, L and O, as in `timing-election.test.ts`), its takeover times, and the interval ranges of ST 2059-2
 * (public committee draft of 2025-08-08, 6.7) and of the media profile table of a switch manual.
 */
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { RULES } from '../../rules/index.js';
import type { Facts as TakeoverFacts } from '../../rules/timing/end-device-could-win/words.js';
import type { Facts as WrongLeaderFacts } from '../../rules/timing/wrong-grandmaster-wins/words.js';

const TIMING = RULES.filter(({ id }) => id.startsWith('timing/'));

interface ClockText {
  readonly name: string;
  readonly ptp: Readonly<Record<string, unknown>>;
  readonly port?: string;
}

interface PlanText {
  readonly clocks: readonly ClockText[];
  readonly switches?: readonly Readonly<Record<string, unknown>>[];
  readonly links?: readonly Readonly<Record<string, unknown>>[];
  readonly domain?: Readonly<Record<string, unknown>>;
}

function findings({ clocks, switches = [], links = [], domain }: PlanText): readonly Finding[] {
  const plan = {
    rig: 'Heron',
    networks: [{ name: 'red', role: 'media', leg: 1 }],
    vlans: [{ name: 'red-video', network: 'red' }],
    ...(domain === undefined ? {} : { timing: { domains: [domain] } }),
    switches,
    links,
    devices: clocks.map(({ name, ptp, port }) => ({
      name,
      ptp,
      interfaces: [{ name: 'red', vlan: 'red-video', ...(port === undefined ? {} : { port }) }],
    })),
  };
  const result = lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], TIMING, { today: '2026-06-01' });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result.findings;
}

function rulesOf(plan: PlanText): readonly string[] {
  return findings(plan).map(({ rule, severity }) => `${rule} ${severity}`);
}

const id = (last: string): string => `02-00-00-FF-FE-00-00-${last}`;
const GNSS = { clockClass: 6, clockAccuracy: 0x21, grandmaster: true };
const FOLLOWER = { domain: 127, slaveOnly: true };

function boundary(name: string, last: string, more: object = {}): Readonly<Record<string, unknown>> {
  return {
    name,
    ptp: { mode: 'boundary', domain: 127, clockClass: 248, clockIdentity: id(last), ...more },
    ports: [
      { name: '1-9', access: 'red-video' },
      { name: '10', trunk: ['red-video'] },
    ],
  };
}

describe('elections of running daemons (linuxptp 3.1.1)', () => {
  it('F: all slave-only listen for ever, so nobody can lead', () => {
    const clocks = ['0A', '0B', '0C'].map((last) => ({ name: last, ptp: { ...FOLLOWER, clockIdentity: id(last) } }));
    expect(rulesOf({ clocks })).toEqual(['timing/no-grandmaster error']);
  });

  it('G: a clock in domain 127 beside domain 0 is its own grandmaster, and nobody notices', () => {
    const clocks = [
      { name: 'a', ptp: { domain: 0, slaveOnly: true } },
      { name: 'c', ptp: { ...GNSS, domain: 0, clockIdentity: id('0C'), priority2: 1 } },
      { name: 'd', ptp: { ...GNSS, domain: 0, clockIdentity: id('0D'), priority2: 2 } },
      { name: 'b', ptp: { domain: 127, clockIdentity: id('0B') } },
    ];
    const found = findings({ clocks, domain: { number: 0, grandmasters: ['c', 'd'] } });
    expect(found.map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([
      'timing/domain-differs domain 127 in rig Heron',
    ]);
  });

  it('I: a camera of priority1 127 behind two boundary clocks leads instead of the satellite clocks at 128', () => {
    const plan = (k: object): PlanText => ({
      switches: [boundary('u', '50'), boundary('v', '60')],
      links: [{ ends: ['u/10', 'v/10'] }],
      clocks: [
        { name: 'g', ptp: { ...GNSS, domain: 127, clockIdentity: id('10'), priority2: 1 }, port: 'u/1' },
        { name: 'h', ptp: { ...GNSS, domain: 127, clockIdentity: id('11'), priority2: 2 }, port: 'u/2' },
        { name: 'f', ptp: FOLLOWER, port: 'u/3' },
        { name: 'k', ptp: { domain: 127, clockIdentity: id('70'), ...k }, port: 'v/1' },
      ],
    });
    const [found, ...others] = findings(plan({ priority1: 127 }));
    expect(others).toEqual([]);
    expect([found?.rule, found?.severity, found?.touch.name]).toEqual(['timing/wrong-grandmaster-wins', 'error', 'k']);
    // As measured: both boundary clocks and the follower keep its time.
    expect(found?.facts as WrongLeaderFacts).toEqual({
      form: 'unintended',
      leader: 'k',
      domain: 127,
      followers: 3,
      intended: { name: 'g', priority1: 128 },
      victory: { by: 'priority1', winner: 127, loser: 128 },
      isSplit: false,
      isEndDevice: true,
    } satisfies WrongLeaderFacts);
    expect(rulesOf(plan({ slaveOnly: true }))).toEqual([]);
  });

  it('L: of two rigs joined, a free-running clock of priority1 10 leads before a satellite clock of 128', () => {
    const plan = (priority1: number): PlanText => ({
      clocks: [
        { name: 'a', ptp: FOLLOWER },
        { name: 'b', ptp: FOLLOWER },
        { name: 'g', ptp: { domain: 127, grandmaster: true, priority1: 10, clockClass: 248, clockIdentity: id('10') } },
        { name: 'h', ptp: { ...GNSS, domain: 127, priority1, clockIdentity: id('11') } },
      ],
    });
    const [found, ...others] = findings(plan(128));
    expect(others).toEqual([]);
    expect([found?.rule, found?.severity, found?.touch.name]).toEqual(['timing/wrong-grandmaster-wins', 'error', 'g']);
    // With one priority1 the class decides, and the rule for the other one's class speaks instead.
    expect(rulesOf(plan(10))).toEqual(['timing/worse-backup warning']);
  });

  it('O, P: a boundary clock of class 6 leads its side as its own grandmaster; of class 187 it follows', () => {
    const plan = (clockClass: number): PlanText => ({
      switches: [boundary('u', '50', { clockClass })],
      clocks: [
        { name: 'g', ptp: { ...GNSS, domain: 127, priority1: 10, clockIdentity: id('10'), priority2: 1 }, port: 'u/1' },
        { name: 'h', ptp: { ...GNSS, domain: 127, priority1: 10, clockIdentity: id('11'), priority2: 2 }, port: 'u/2' },
        { name: 'f', ptp: FOLLOWER, port: 'u/3' },
      ],
    });
    const found = findings(plan(6));
    expect(found.map(({ rule, subject }) => `${rule} ${subject}`)).toEqual([
      'timing/wrong-grandmaster-wins u in domain 127 in rig Heron',
    ]);
    expect(found[0]?.facts as WrongLeaderFacts).toMatchObject({ victory: { by: 'class', clockClass: 6 } });
    expect(rulesOf(plan(187))).toEqual([]);
  });
});

describe('takeover times of running daemons', () => {
  // announce interval, timeout; measured from kill to takeover: 0.82 to 0.88 s, 2.97 to 3.07 s, 5.9 to 7.1 s
  it.each([
    [-2, 3, 0.75, 1],
    [0, 3, 3, 4],
    [1, 3, 6, 8],
  ])('announce %i, timeout %i: an end device takes over in %d to %d s', (...row) => {
    const [logAnnounceInterval, announceReceiptTimeout, fromS, toS] = row;
    const clocks = [
      { name: 'gm-1', ptp: { ...GNSS, domain: 127, priority2: 1 } },
      { name: 'gm-2', ptp: { ...GNSS, domain: 127, priority2: 2 } },
      { name: 'stage-box-4', ptp: { domain: 127, slaveOnly: false } },
      { name: 'cam-start', ptp: FOLLOWER },
    ];
    const found = findings({ clocks, domain: { number: 127, logAnnounceInterval, announceReceiptTimeout } });
    expect(found.map(({ rule }) => rule)).toEqual(['timing/end-device-could-win']);
    expect(found[0]?.facts as TakeoverFacts).toMatchObject({
      lost: ['gm-1', 'gm-2'],
      to: 'stage-box-4',
      domain: 127,
      takeover: { fromS, toS },
    });
  });
});

describe('interval ranges', () => {
  // profile, announce, sync, delay request, timeout, keys out of range
  it.each<readonly [string, number, number, number, number, readonly string[]]>([
    ['ST 2059-2', -3, -7, -7, 3, []],
    ['ST 2059-2', -4, -3, -3, 3, ['logAnnounceInterval']],
    ['ST 2059-2', 0, -3, 2, 3, []],
    ['ST 2059-2', 0, -3, 3, 3, ['logMinDelayReqInterval']],
    ['ST 2059-2', 0, -3, -4, 3, ['logMinDelayReqInterval']],
    ['ST 2059-2', 0, 0, 0, 3, ['logSyncInterval']],
    ['AES67', 0, -4, -3, 3, []],
    ['AES67', -1, -3, 0, 3, ['logAnnounceInterval']],
    ['AES67', 1, -5, 0, 3, ['logSyncInterval']],
    ['AES-R16', 2, -3, -3, 3, ['logAnnounceInterval']],
    ['AES-R16', 1, -1, 4, 3, []],
    ['IEEE 1588', 1, 0, 0, 3, []],
    ['IEEE 1588', 1, -3, 0, 3, ['logSyncInterval']],
    ['ST 2059-2', 0, -3, -3, 11, ['announceReceiptTimeout']],
    ['ST 2059-2', 0, -3, -3, 1, ['announceReceiptTimeout']],
  ])('%s with announce %i, sync %i, delay request %i, timeout %i', (profile, announce, sync, delay, timeout, keys) => {
    const domain = {
      number: 127,
      profile,
      logAnnounceInterval: announce,
      logSyncInterval: sync,
      logMinDelayReqInterval: delay,
      announceReceiptTimeout: timeout,
    };
    const found = findings({ clocks: [{ name: 'cam-start', ptp: { domain: 127 } }], domain });
    expect(found.map(({ rule, subject }) => `${rule} ${subject.split(' ')[0] ?? ''}`)).toEqual(
      keys.map((key) => `timing/interval-out-of-profile ${key}`),
    );
  });
});
