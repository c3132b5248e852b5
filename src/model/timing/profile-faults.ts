/** Intervals that a domain or a clock states and its profile does not admit. */
import { groupBy } from '../../collections/group-by.js';
import { mapAll, type NonEmpty } from '../../collections/non-empty.js';
import type { Plan, PtpDomain } from '../../plan/types.js';
import { clocksByName } from './clocks-by-name.js';
import type { ClockFacts } from './clocks.js';
import {
  INTERVAL_KEYS,
  outOfProfile,
  profileNamed,
  type IntervalKey,
  type Intervals,
  type OutOfProfile,
  type Profile,
} from './profiles.js';

export interface ProfileFault {
  readonly profile: Profile;
  readonly fault: OutOfProfile;
}

export interface DomainFault extends ProfileFault {
  readonly domain: PtpDomain;
}

export function domainFaults({ ptpDomains }: Plan): readonly DomainFault[] {
  return ptpDomains.flatMap((domain) => {
    const profile = domain.profile === undefined ? undefined : profileNamed(domain.profile, domain.edition);
    if (profile === undefined) return [];
    const stated = statedIntervals(domain, domain.delayMechanism);
    return outOfProfile(profile, stated).map((fault) => ({ domain, profile, fault }));
  });
}

/** One value that clocks of one rig and domain state. */
export interface ClockFault extends ProfileFault {
  /** By name. */
  readonly clocks: NonEmpty<ClockFacts>;
}

export function clockFaults(clocks: readonly ClockFacts[]): readonly ClockFault[] {
  const same = groupBy(clocks.flatMap(faultsOf), ({ clock, fault, profile }) =>
    [clock.domain, clock.rig.name, profile.key, fault.key, fault.value, fault.least, fault.most].join(' '),
  );
  return [...same.values()].map((own) => {
    const [{ profile, fault }] = own;
    return { profile, fault, clocks: clocksByName(mapAll(own, ({ clock }) => clock)) };
  });
}

/** What the clock itself states; what it takes from its domain is said once, there. */
function faultsOf(clock: ClockFacts): readonly (ProfileFault & { readonly clock: ClockFacts })[] {
  const { profile, settings } = clock;
  if (profile === undefined) return [];
  const stated = statedIntervals(settings, clock.delayMechanism);
  const sync = clock.assumed.has('logSyncInterval') ? {} : { logSyncInterval: clock.logSyncInterval };
  return outOfProfile(profile, { ...stated, ...sync })
    .filter(({ key }) => settings[key] !== undefined)
    .map((fault) => ({ clock, profile, fault }));
}

/** Peer delay does not matter to a clock that measures end to end, nor the other way round. */
export function statedIntervals(from: Pick<PtpDomain, IntervalKey>, mechanism: 'e2e' | 'p2p' | undefined): Intervals {
  const unused = mechanism === 'p2p' ? 'logMinDelayReqInterval' : 'logMinPdelayReqInterval';
  return Object.fromEntries(
    INTERVAL_KEYS.filter((key) => key !== unused && from[key] !== undefined).map((key) => [key, from[key]]),
  );
}

/** The profile's default, or what of the range is nearest to it. */
export function admittedDefault({ profile, fault: { key, least, most } }: ProfileFault): number {
  return Math.min(most, Math.max(least, profile[key]?.default.value ?? least));
}
