/**
 * PTP profiles as data. IEEE 1588, AES67 and ST 2059-2 themselves are not free to read: each value names the clause it
 * comes from and how it is known here. `read`: read in the source named with the profile. `from memory`: not looked up.
 */
import type { DelayMechanism, PtpTransport } from '../../plan/types.js';

/** A profile value, and what it rests on. */
export interface Sourced<T> {
  readonly value: T;
  /** Document and clause. */
  readonly cites: string;
  readonly known: 'read' | 'from memory';
}

/** A number with its default and its range, both included. */
export interface Setting {
  readonly default: Sourced<number>;
  readonly least: number;
  readonly most: number;
  /** What the range rests on, where it differs from the default's. */
  readonly range: Omit<Sourced<unknown>, 'value'>;
}

/** A setting whose range hangs on the sync interval: `logSync .. logSync + 5`. */
export interface SettingOverSync {
  readonly default: Sourced<number>;
  readonly leastOverSync: number;
  readonly mostOverSync: number;
  readonly range: Omit<Sourced<unknown>, 'value'>;
}

export type ProfileKey =
  'ieee1588-e2e' | 'ieee1588-p2p' | 'st2059-2:2015' | 'st2059-2:2021' | 'st2059-2:draft' | 'aes67' | 'aes-r16';

export type TransparentMode = 'e2e-transparent' | 'p2p-transparent';

/** Intervals are log2 of seconds. */
export interface Profile {
  readonly key: ProfileKey;
  readonly title: string;
  /** Profile identifier; absent for a report that is no profile. */
  readonly identifier: Sourced<string> | undefined;
  readonly domain: Setting;
  readonly priority1: Setting;
  readonly priority2: Setting;
  readonly logAnnounceInterval: Setting;
  readonly logSyncInterval: Setting;
  readonly logMinDelayReqInterval: Setting | SettingOverSync | undefined;
  readonly logMinPdelayReqInterval: Setting | SettingOverSync | undefined;
  readonly announceReceiptTimeout: Setting;
  /** Delay mechanisms it admits, the usual one first. */
  readonly delayMechanisms: Sourced<readonly DelayMechanism[]>;
  /** Transports it admits, the usual one first. */
  readonly transports: Sourced<readonly PtpTransport[]>;
  /** Transparent clocks it admits, the usual one first. */
  readonly transparent: Sourced<readonly TransparentMode[]>;
  /** Whether one announce interval must hold in the whole domain, or merely ought to. */
  readonly uniformAnnounce: Sourced<'shall' | 'should'>;
}

const DRAFT = 'SMPTE ST 2059-2 committee draft of 2025-08-08';

function read(cites: string): Omit<Sourced<unknown>, 'value'> {
  return { cites, known: 'read' };
}

function remembered(cites: string): Omit<Sourced<unknown>, 'value'> {
  return { cites, known: 'from memory' };
}

function setting(value: number, by: Omit<Sourced<unknown>, 'value'>, least: number, most: number, range = by): Setting {
  return { default: { value, ...by }, least, most, range };
}

function overSync(value: number, by: Omit<Sourced<unknown>, 'value'>, range = by): SettingOverSync {
  return { default: { value, ...by }, leastOverSync: 0, mostOverSync: 5, range };
}

const LINUXPTP = read('IEEE 1588-2008 J.3 and J.4, as linuxptp configs/default.cfg sets it');
const RANGE_1588 = remembered('IEEE 1588-2008 J.3 and J.4');
const TRADE_TABLE = read('media profile table of a switch manual');

const IEEE1588: Omit<
  Profile,
  | 'key'
  | 'title'
  | 'identifier'
  | 'logMinDelayReqInterval'
  | 'logMinPdelayReqInterval'
  | 'delayMechanisms'
  | 'transparent'
> = {
  domain: setting(0, LINUXPTP, 0, 127, RANGE_1588),
  priority1: setting(128, LINUXPTP, 0, 255),
  priority2: setting(128, LINUXPTP, 0, 255),
  logAnnounceInterval: setting(1, LINUXPTP, 0, 4, RANGE_1588),
  logSyncInterval: setting(0, LINUXPTP, -1, 1, RANGE_1588),
  announceReceiptTimeout: setting(3, LINUXPTP, 2, 10, read(`${DRAFT} 6.7.2, which repeats IEEE 1588-2019 I.3`)),
  transports: { value: ['udp-ipv4', 'udp-ipv6', 'ethernet'], ...remembered('IEEE 1588-2008 J.3') },
  uniformAnnounce: { value: 'should', ...remembered('IEEE 1588-2008 8.2.5.4.1') },
};

const ST2059: Omit<
  Profile,
  'key' | 'title' | 'logAnnounceInterval' | 'logMinPdelayReqInterval' | 'delayMechanisms' | 'transparent'
> = {
  identifier: { value: '68-97-E8-00-01-00', ...read(`${DRAFT} 6.1`) },
  domain: setting(127, read(`${DRAFT} 6.7.2`), 0, 127),
  priority1: setting(128, read(`${DRAFT} 6.7.2`), 0, 255),
  priority2: setting(128, read(`${DRAFT} 6.7.2`), 0, 255),
  logSyncInterval: setting(-3, read(`${DRAFT} 6.7`), -7, -1),
  logMinDelayReqInterval: overSync(-3, read(`${DRAFT} 6.7.3`)),
  announceReceiptTimeout: setting(3, read(`${DRAFT} 6.7.2`), 2, 10),
  transports: { value: ['udp-ipv4', 'udp-ipv6'], ...read(`${DRAFT} 6.11`) },
  uniformAnnounce: { value: 'shall', ...read(`${DRAFT} 6.7.2`) },
};

/** ST 2059-2 of 2015 and 2021: peer delay admitted, and no certainty whether 2021 still has four announces a second. */
const ST2059_BOTH_DELAYS = {
  logMinPdelayReqInterval: overSync(-3, remembered('SMPTE ST 2059-2:2015')),
  delayMechanisms: { value: ['e2e', 'p2p'], ...remembered('SMPTE ST 2059-2:2015') },
  transparent: { value: ['e2e-transparent', 'p2p-transparent'], ...remembered('SMPTE ST 2059-2:2015') },
} as const;

const AES67: Omit<
  Profile,
  | 'key'
  | 'title'
  | 'identifier'
  | 'logMinPdelayReqInterval'
  | 'logMinDelayReqInterval'
  | 'delayMechanisms'
  | 'transparent'
  | 'logAnnounceInterval'
  | 'logSyncInterval'
> = {
  domain: setting(0, read('AES67-2018 Annex A, as a digest and a switch manual give it'), 0, 127),
  priority1: setting(128, TRADE_TABLE, 0, 255),
  priority2: setting(128, TRADE_TABLE, 0, 255),
  announceReceiptTimeout: setting(3, TRADE_TABLE, 2, 10),
  transports: { value: ['udp-ipv4'], ...read('AES67-2018 Annex A, as a digest gives it') },
  uniformAnnounce: { value: 'should', ...remembered('AES67-2018 Annex A') },
};

/** The profiles a plan may name. */
export const PROFILES: Readonly<Record<ProfileKey, Profile>> = {
  'ieee1588-e2e': {
    key: 'ieee1588-e2e',
    title: 'IEEE 1588 default profile, end to end',
    identifier: { value: '00-1B-19-00-01-00', ...remembered('IEEE 1588-2008 J.3') },
    ...IEEE1588,
    logMinDelayReqInterval: setting(0, LINUXPTP, 0, 5, RANGE_1588),
    logMinPdelayReqInterval: undefined,
    delayMechanisms: { value: ['e2e'], ...remembered('IEEE 1588-2008 J.3') },
    transparent: { value: ['e2e-transparent'], ...remembered('IEEE 1588-2008 J.3') },
  },
  'ieee1588-p2p': {
    key: 'ieee1588-p2p',
    title: 'IEEE 1588 default profile, peer to peer',
    identifier: { value: '00-1B-19-00-02-00', ...remembered('IEEE 1588-2008 J.4') },
    ...IEEE1588,
    logMinDelayReqInterval: undefined,
    logMinPdelayReqInterval: setting(0, LINUXPTP, 0, 5, RANGE_1588),
    delayMechanisms: { value: ['p2p'], ...remembered('IEEE 1588-2008 J.4') },
    transparent: { value: ['p2p-transparent'], ...remembered('IEEE 1588-2008 J.4') },
  },
  'st2059-2:2015': {
    key: 'st2059-2:2015',
    title: 'ST 2059-2:2015',
    ...ST2059,
    ...ST2059_BOTH_DELAYS,
    logAnnounceInterval: setting(-2, remembered('SMPTE ST 2059-2:2015'), -3, 1, read(`${DRAFT} 6.7`)),
  },
  'st2059-2:2021': {
    key: 'st2059-2:2021',
    title: 'ST 2059-2:2021',
    ...ST2059,
    ...ST2059_BOTH_DELAYS,
    // Sources disagree on the default of 2021; the draft that revises it has 0 and lists no change of it.
    logAnnounceInterval: setting(-2, remembered('SMPTE ST 2059-2:2021'), -3, 1, read(`${DRAFT} 6.7`)),
  },
  'st2059-2:draft': {
    key: 'st2059-2:draft',
    title: 'ST 2059-2, draft of 2025',
    ...ST2059,
    logAnnounceInterval: setting(0, read(`${DRAFT} 6.7`), -3, 1),
    logMinPdelayReqInterval: undefined,
    delayMechanisms: { value: ['e2e'], ...read(`${DRAFT} 6.6`) },
    transparent: { value: ['e2e-transparent'], ...read(`${DRAFT} 6.10`) },
  },
  aes67: {
    key: 'aes67',
    title: 'AES67 media profile',
    identifier: { value: '00-0B-5E-00-01-00', ...read('AES67-2018 Annex A, as a digest gives it') },
    ...AES67,
    logAnnounceInterval: setting(1, TRADE_TABLE, 0, 4),
    logSyncInterval: setting(-3, TRADE_TABLE, -4, 1),
    // The switch manual has -3 and -7..-3, which looks like a limit of the platform.
    logMinDelayReqInterval: setting(0, remembered('AES67-2018 Annex A'), -3, 5),
    logMinPdelayReqInterval: setting(0, remembered('AES67-2018 Annex A'), 0, 5),
    delayMechanisms: { value: ['e2e', 'p2p'], ...read('AES67-2018 Annex A, as a digest gives it') },
    transparent: { value: ['e2e-transparent', 'p2p-transparent'], ...remembered('AES67-2018 Annex A') },
  },
  'aes-r16': {
    key: 'aes-r16',
    title: 'AES-R16, AES67 and ST 2059-2 together',
    identifier: undefined,
    ...AES67,
    logAnnounceInterval: setting(0, TRADE_TABLE, 0, 1),
    logSyncInterval: setting(-3, TRADE_TABLE, -4, -1),
    logMinDelayReqInterval: overSync(-3, TRADE_TABLE, read(`${DRAFT} 6.7.3, which binds it more than AES67 does`)),
    logMinPdelayReqInterval: undefined,
    delayMechanisms: { value: ['e2e'], ...TRADE_TABLE },
    transparent: { value: ['e2e-transparent'], ...remembered('AES-R16-2016') },
    uniformAnnounce: { value: 'shall', ...read(`${DRAFT} 6.7.2`) },
  },
};

/** How the profiles are usually written, each once: what a plan may be told to write. */
export const PROFILE_NAMES = ['ST 2059-2', 'AES67', 'AES-R16', 'IEEE 1588'] as const;

/** What may follow on the number of a document: its edition and words, never more of a number. */
const REST = '(?=$|\\D|(?:19|20)\\d\\d)';
const ST_2059_2 = new RegExp(`^(smpte)?(st)?20592${REST}`);
const AES_R16 = new RegExp(`^aesr16${REST}`);
const AES67_NAME = new RegExp(`^aes67${REST}`);
const IEEE_1588 = new RegExp(`^(ieee)?1588${REST}|^default`);

/** The profile a plan means by a name, with the edition it states; undefined for a name nobody knows. */
export function profileNamed(name: string, edition?: string): Profile | undefined {
  const plain = name.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (ST_2059_2.test(plain)) {
    const said = `${edition ?? ''} ${plain.replace(ST_2059_2, '')}`;
    return PROFILES[
      said.includes('2015') ? 'st2059-2:2015' : /draft|2025|2026/.test(said) ? 'st2059-2:draft' : 'st2059-2:2021'
    ];
  }
  if (AES_R16.test(plain) || plain === 'aes67st20592') return PROFILES['aes-r16'];
  if (AES67_NAME.test(plain)) return PROFILES.aes67;
  if (IEEE_1588.test(plain)) return PROFILES[/p2p|peer/.test(plain) ? 'ieee1588-p2p' : 'ieee1588-e2e'];
  return undefined;
}

/** Least and most a setting may be, under a sync interval where it hangs on that. */
export function settingRange(
  one: Setting | SettingOverSync,
  logSyncInterval: number,
): { readonly least: number; readonly most: number } {
  return 'least' in one
    ? { least: one.least, most: one.most }
    : { least: logSyncInterval + one.leastOverSync, most: logSyncInterval + one.mostOverSync };
}

/** Names of the settings that have a range. */
export const INTERVAL_KEYS = [
  'logAnnounceInterval',
  'logSyncInterval',
  'logMinDelayReqInterval',
  'logMinPdelayReqInterval',
  'announceReceiptTimeout',
] as const;
export type IntervalKey = (typeof INTERVAL_KEYS)[number];

export type Intervals = Readonly<Partial<Record<IntervalKey, number>>>;

/** A value outside the range a profile gives it. */
export interface OutOfProfile {
  readonly key: IntervalKey;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly cites: string;
  readonly known: Sourced<unknown>['known'];
}

/** Which of the intervals given the profile does not admit. */
export function outOfProfile(profile: Profile, intervals: Intervals): readonly OutOfProfile[] {
  const logSync = intervals.logSyncInterval ?? profile.logSyncInterval.default.value;
  return INTERVAL_KEYS.flatMap((key) => {
    const value = intervals[key];
    const admitted = profile[key];
    if (value === undefined || admitted === undefined) return [];
    const { least, most } = settingRange(admitted, logSync);
    return value >= least && value <= most ? [] : [{ key, value, least, most, ...admitted.range }];
  });
}

/** Intervals that every one of the profiles admits, under one sync interval; undefined where they share none. */
export function sharedRange(
  profiles: readonly Profile[],
  key: IntervalKey,
  logSyncInterval: number,
): { readonly least: number; readonly most: number } | undefined {
  const ranges = profiles.flatMap((profile) => {
    const one = profile[key];
    return one === undefined ? [] : [settingRange(one, logSyncInterval)];
  });
  const least = Math.max(...ranges.map((one) => one.least));
  const most = Math.min(...ranges.map((one) => one.most));
  return ranges.length > 0 && least <= most ? { least, most } : undefined;
}

/** Where PTP messages of one transport go. UDP ports and groups are the same for every domain. */
export interface PtpAddresses {
  readonly primary: string;
  readonly peerDelay: string;
  readonly eventPort: number | undefined;
  readonly generalPort: number | undefined;
  readonly cites: string;
}

/** UDP ports: event for Sync and delay requests, general for the rest (IEEE 1588-2008 Annex D.2, E.2). */
export const PTP_ADDRESSES: Readonly<Record<PtpTransport, PtpAddresses>> = {
  'udp-ipv4': {
    primary: '224.0.1.129',
    peerDelay: '224.0.0.107',
    eventPort: 319,
    generalPort: 320,
    cites: 'IANA IPv4 multicast registry; IEEE 1588-2008 Annex D',
  },
  'udp-ipv6': {
    primary: 'ff0e::181',
    peerDelay: 'ff02::6b',
    eventPort: 319,
    generalPort: 320,
    cites: 'IANA IPv6 multicast registry; IEEE 1588-2008 Annex E',
  },
  ethernet: {
    primary: '01-1B-19-00-00-00',
    peerDelay: '01-80-C2-00-00-0E',
    eventPort: undefined,
    generalPort: undefined,
    cites: 'IEEE 1588-2008 Annex F',
  },
};
