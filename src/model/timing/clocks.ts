/**
 * The clocks of a plan with everything an election asks of them. What a clock does not state it takes from its PTP
 * domain, then from the profile, then from IEEE 1588; `assumed` names what nobody stated.
 */
import type {
  DelayMechanism,
  DelayRequests,
  Device,
  Plan,
  PtpDomain,
  PtpMode,
  PtpSettings,
  PtpTransport,
  Rig,
  Switch,
} from '../../plan/types.js';
import { identityFromMac } from '../../values/clock-identity.js';
import {
  DEFAULT_CLOCK_ACCURACY,
  DEFAULT_CLOCK_CLASS,
  DEFAULT_VARIANCE,
  LOCKED_CLASS,
  SLAVE_ONLY_CLASS,
} from './clock-quality.js';
import type { ClockQuality } from './bmca.js';
import { PROFILES, profileNamed, type IntervalKey, type Profile } from './profiles.js';

export type ClockOwner = Device | Switch;

/** Facts that decide an election or a takeover and that a plan may leave open. */
export type ClockFact = 'mode' | 'domain' | 'transport' | keyof ClockQuality | IntervalKey | 'place';

/** A clock without its ports: what it says of itself. */
export interface ClockFacts {
  readonly owner: ClockOwner;
  readonly name: string;
  readonly rig: Rig;
  readonly settings: PtpSettings;
  readonly mode: Exclude<PtpMode, 'none'>;
  readonly domain: number;
  readonly transport: PtpTransport;
  readonly delayMechanism: DelayMechanism;
  readonly delayRequests: DelayRequests;
  /** The domain the plan states under this number, and the profile it or the clock names. */
  readonly planned: PtpDomain | undefined;
  readonly profile: Profile | undefined;
  readonly quality: ClockQuality;
  readonly slaveOnly: boolean;
  readonly relays: boolean;
  /** Meant to lead: it says so, or its domain lists it. */
  readonly meantToLead: boolean;
  readonly logAnnounceInterval: number;
  readonly logSyncInterval: number;
  readonly logMinDelayReqInterval: number;
  readonly logMinPdelayReqInterval: number;
  readonly announceReceiptTimeout: number;
  readonly twoStep: boolean;
  readonly assumed: ReadonlySet<ClockFact>;
}

/** Every device and switch that takes part in PTP, transparent ones too, in plan order. */
export function clockFacts(plan: Plan): readonly ClockFacts[] {
  const owners: readonly ClockOwner[] = [...plan.devices, ...plan.switches];
  const named = owners.filter((owner) => owner.ptp !== undefined && owner.ptp.mode !== 'none');
  const unknown = unknownIdentities(named);
  return named.flatMap((owner) => {
    const settings = owner.ptp;
    return settings === undefined ? [] : [factsOf(plan, owner, settings, unknown)];
  });
}

function factsOf(
  plan: Plan,
  owner: ClockOwner,
  settings: PtpSettings,
  unknown: ReadonlyMap<ClockOwner, bigint>,
): ClockFacts {
  const assumed = new Set<ClockFact>();
  const assume = <T>(fact: ClockFact, stated: T | undefined, otherwise: T): T => {
    if (stated === undefined) assumed.add(fact);
    return stated ?? otherwise;
  };
  const mode = assume(
    'mode',
    settings.mode === 'none' ? undefined : settings.mode,
    isSwitch(owner) ? 'boundary' : 'ordinary',
  );
  const own = plan.ptpDomains.filter((one) => one.rig === owner.rig);
  const only = own.length === 1 ? own[0] : undefined;
  const ownProfile = settings.profile === undefined ? undefined : profileNamed(settings.profile);
  const stated = settings.domain ?? owner.rig.practice.ptpDomain ?? only?.number ?? ownProfile?.domain.default.value;
  const domain = assume('domain', stated, PROFILES['ieee1588-e2e'].domain.default.value);
  const planned = own.find((one) => one.number === domain);
  const editionOf =
    settings.profile === undefined || settings.profile === planned?.profile ? planned?.edition : undefined;
  const profileName = settings.profile ?? planned?.profile;
  const profile = profileName === undefined ? undefined : profileNamed(profileName, editionOf);
  const slaveOnly = settings.slaveOnly ?? settings.clockClass === SLAVE_ONLY_CLASS;
  const identity = settings.clockIdentity ?? identityByMac(owner);
  const interval = (key: IntervalKey): number =>
    assume(key, settings[key] ?? planned?.[key], profileDefault(profile, key));
  return {
    owner,
    name: owner.name,
    rig: owner.rig,
    settings,
    mode,
    domain,
    transport: assume(
      'transport',
      settings.transport ?? planned?.transport,
      profile?.transports.value[0] ?? 'udp-ipv4',
    ),
    delayMechanism: settings.delayMechanism ?? planned?.delayMechanism ?? profile?.delayMechanisms.value[0] ?? 'e2e',
    delayRequests: settings.delayRequests ?? planned?.delayRequests ?? 'multicast',
    planned,
    profile,
    quality: {
      priority1: assume('priority1', settings.priority1, profile?.priority1.default.value ?? 128),
      // Slave-only is class 255 whatever is written (IEEE 1588-2008 §9.2.2).
      clockClass: slaveOnly
        ? SLAVE_ONLY_CLASS
        : assume('clockClass', settings.clockClass, settings.traceable === true ? LOCKED_CLASS : DEFAULT_CLOCK_CLASS),
      clockAccuracy: assume('clockAccuracy', settings.clockAccuracy, DEFAULT_CLOCK_ACCURACY),
      offsetScaledLogVariance: assume('offsetScaledLogVariance', settings.offsetScaledLogVariance, DEFAULT_VARIANCE),
      priority2: assume('priority2', settings.priority2, profile?.priority2.default.value ?? 128),
      identity: assume('identity', identity, unknown.get(owner) ?? 0n),
    },
    slaveOnly,
    relays: mode === 'boundary',
    meantToLead: settings.grandmaster ?? isListed(plan, owner, domain, planned),
    logAnnounceInterval: interval('logAnnounceInterval'),
    logSyncInterval: interval('logSyncInterval'),
    logMinDelayReqInterval: interval('logMinDelayReqInterval'),
    logMinPdelayReqInterval: interval('logMinPdelayReqInterval'),
    announceReceiptTimeout: interval('announceReceiptTimeout'),
    // Two messages a Sync: the heavier case.
    twoStep: settings.twoStep ?? true,
    assumed,
  };
}

/** Listed by the domain of its own rig, or in another file by name and number, as where rigs are joined. */
function isListed(plan: Plan, owner: ClockOwner, domain: number, planned: PtpDomain | undefined): boolean {
  if (planned?.grandmasters.includes(owner) === true) return true;
  return plan.ptpDomains.some(
    ({ number, rig, grandmasters }) => number === domain && rig !== owner.rig && grandmasters.includes(owner),
  );
}

function profileDefault(profile: Profile | undefined, key: IntervalKey): number {
  return (
    profile?.[key]?.default.value ??
    PROFILES['ieee1588-e2e'][key]?.default.value ??
    PROFILES['ieee1588-p2p'][key]?.default.value ??
    0
  );
}

/** The lowest MAC as EUI-64 (IEEE 1588-2008 §7.5.2.2.2, from memory; the maker chooses the interface). */
export function identityByMac(owner: ClockOwner): bigint | undefined {
  const macs = (isSwitch(owner) ? owner.addresses : owner.interfaces).flatMap(({ mac }) => mac ?? []);
  return macs.length === 0 ? undefined : identityFromMac(Math.min(...macs));
}

export function isSwitch(owner: ClockOwner): owner is Switch {
  return 'ports' in owner;
}

/**
 * Clocks of which no identity is known lose every tie with a known one, and are ordered by name among themselves: a
 * guess, so `assumed` has `identity`.
 */
function unknownIdentities(owners: readonly ClockOwner[]): ReadonlyMap<ClockOwner, bigint> {
  const unnamed = owners.filter(
    (owner) => owner.ptp?.clockIdentity === undefined && identityByMac(owner) === undefined,
  );
  const names = (one: ClockOwner): string => `${one.name}\n${one.rig.name}`;
  const ordered = [...unnamed].sort((a, b) => (names(a) < names(b) ? -1 : names(a) > names(b) ? 1 : 0));
  return new Map(ordered.map((owner, index) => [owner, (0xffff_ffffn << 32n) | BigInt(index)]));
}
