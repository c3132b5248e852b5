/** Names of PTP profiles that are slips: a name that is not known, and a profile that speaks against all that stands beside it. */
import { groupBy } from '../../collections/group-by.js';
import { nearestSlip } from '../../collections/nearest.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Plan, PtpDomain, PtpSettings, Rig } from '../../plan/types.js';
import type { ClockFacts } from './clocks.js';
import { statedIntervals, type ClockFault, type DomainFault } from './profile-faults.js';
import { outOfProfile, PROFILE_NAMES, profileNamed, type Profile } from './profiles.js';

/** A domain or a clock that names a profile. */
export type ProfileUser =
  | { readonly kind: 'domain'; readonly domain: PtpDomain; readonly entity: PtpDomain; readonly rig: Rig }
  | { readonly kind: 'clock'; readonly clock: ClockFacts; readonly entity: PtpSettings; readonly rig: Rig };

export interface UnknownProfile {
  /** As it is written. */
  readonly name: string;
  /** The known name it is one slip away from. */
  readonly meant: string | undefined;
  readonly users: NonEmpty<ProfileUser>;
}

/** Names of profiles that are not known, once a rig. */
export function unknownProfiles({ ptpDomains }: Plan, clocks: readonly ClockFacts[]): readonly UnknownProfile[] {
  const users = [
    ...ptpDomains.map((domain): ProfileUser => ({ kind: 'domain', domain, entity: domain, rig: domain.rig })),
    ...clocks.map((clock): ProfileUser => ({ kind: 'clock', clock, entity: clock.settings, rig: clock.rig })),
  ].filter(({ entity: { profile } }) => profile !== undefined && profileNamed(profile) === undefined);
  const same = groupBy(users, ({ rig, entity: { profile } }) => JSON.stringify([rig.name, profile]));
  return [...same.values()].map((own) => {
    const name = own[0].entity.profile ?? '';
    return { name, meant: meantBy(name), users: own };
  });
}

/** Spellings with their usual editions, so that a slip before an edition is seen as one too. */
const SPELLINGS = [
  ...PROFILE_NAMES,
  ...['SMPTE ST 2059-2', 'ST 2059-2:2015', 'ST 2059-2:2021', 'SMPTE ST 2059-2:2015', 'SMPTE ST 2059-2:2021'],
  ...['AES67-2013', 'AES67-2018', 'AES67-2023', 'AES67 media profile'],
  ...['IEEE 1588-2008', 'IEEE 1588-2019', 'IEEE 1588 default', 'IEEE 1588 default profile'],
];

function meantBy(name: string): string | undefined {
  return nearestSlip(name, SPELLINGS);
}

/**
 * The profile a domain means by one whose ranges it breaks: that of all its clocks that name one, or the only one that
 * admits all intervals it states and whose default domain (SMPTE ST 2059-2 6.7.2, AES67 Annex A) has its number.
 */
export function profileMeantByDomain(
  { domain, profile }: DomainFault,
  clocks: readonly ClockFacts[],
): string | undefined {
  const own = clocks.filter(({ planned, settings }) => planned === domain && settings.profile !== undefined);
  const stated = statedIntervals(domain, domain.delayMechanism);
  const admits = (one: Profile | undefined): boolean =>
    one !== undefined && one.key !== profile.key && outOfProfile(one, stated).length === 0;
  const [named, ...others] = new Set(own.map(({ settings }) => settings.profile ?? ''));
  if (named !== undefined)
    return others.length === 0 && admits(profileNamed(named, domain.edition)) ? named : undefined;
  if (profile.domain.default.value === domain.number) return undefined;
  const [fits, ...more] = PROFILE_NAMES.filter((name) => {
    const one = profileNamed(name, domain.edition);
    return one?.domain.default.value === domain.number && admits(one);
  });
  return more.length === 0 ? fits : undefined;
}

/** The profile clocks mean by one of their own whose ranges they break: that of their domain, where it admits what they state. */
export function profileMeantByClocks({ clocks, profile }: ClockFault): string | undefined {
  const names = new Set(
    clocks.map((clock) => {
      const { settings, planned } = clock;
      if (settings.profile === undefined || planned?.profile === undefined) return undefined;
      const wanted = profileNamed(planned.profile, planned.edition);
      const stated = statedIntervals(settings, clock.delayMechanism);
      const fits = wanted !== undefined && wanted.key !== profile.key && outOfProfile(wanted, stated).length === 0;
      return fits ? planned.profile : undefined;
    }),
  );
  const [name, ...others] = names;
  return others.length === 0 ? name : undefined;
}
