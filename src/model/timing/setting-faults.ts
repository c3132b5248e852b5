/** Domain numbers, transports, delay mechanisms and transparent clocks that a profile does not admit. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty } from '../../collections/non-empty.js';
import type { Plan, PtpDomain, Rig } from '../../plan/types.js';
import type { Timing } from './build-timing.js';
import { clocksByName } from './clocks-by-name.js';
import type { ClockFacts } from './clocks.js';
import { profileNamed, type Profile, type Sourced } from './profiles.js';
import { splitByTransport } from './ways.js';

export type PtpSettingKey = 'domain' | 'transport' | 'delayMechanism' | 'mode';

/** One value of one key that a domain of a rig states, clocks of it, or both. */
export interface SettingFault {
  readonly profile: Profile;
  readonly key: PtpSettingKey;
  readonly value: string | number;
  /** Values it may have, the usual one first; of a domain number the least and the most. */
  readonly admitted: readonly (string | number)[];
  readonly known: Sourced<unknown>['known'];
  readonly rig: Rig;
  /** Number of the domain. */
  readonly number: number | undefined;
  readonly domain: PtpDomain | undefined;
  /** By name. */
  readonly clocks: readonly ClockFacts[];
}

type Draft = Omit<SettingFault, 'clocks'> & { readonly clock: ClockFacts | undefined };

/** Without those that their followers or leaders report: a transport or a delay mechanism of which there are two. */
export function settingFaults({ ptpDomains }: Plan, timing: Timing): readonly SettingFault[] {
  const apart = new Set<object>(splitByTransport(timing).flatMap(({ cut }) => cut.map(({ owner }) => owner)));
  const unlike = new Set<object>(timing.delayMismatches.map(({ follower }) => follower.owner));
  const ofDomains = ptpDomains.flatMap((domain): readonly Draft[] => {
    const profile = domain.profile === undefined ? undefined : profileNamed(domain.profile, domain.edition);
    if (profile === undefined) return [];
    const { number, rig, transport, delayMechanism } = domain;
    return faultsOf(profile, { domain: number, transport, delayMechanism }).map((one) => ({
      ...one,
      profile,
      rig,
      number,
      domain,
      clock: undefined,
    }));
  });
  const planned = new Set(ptpDomains.map(({ rig }) => rig));
  const ofClocks = timing.facts.flatMap((clock): readonly Draft[] => {
    const { profile, rig, owner, settings, mode, domain: number } = clock;
    if (profile === undefined) return [];
    const stated = {
      // Where the rig states its domains, theirs are the numbers to change.
      domain: planned.has(rig) ? undefined : settings.domain,
      transport: apart.has(owner) ? undefined : settings.transport,
      delayMechanism: unlike.has(owner) ? undefined : settings.delayMechanism,
      mode: clock.assumed.has('mode') ? undefined : mode,
    };
    return faultsOf(profile, stated).map((one) => ({ ...one, profile, rig, number, domain: undefined, clock }));
  });
  const same = groupBy([...ofDomains, ...ofClocks], ({ rig, number, profile, key, value }) =>
    [rig.name, number, profile.key, key, value].join('\n'),
  );
  return [...same.values()].map((own): SettingFault => {
    const [{ profile, key, value, admitted, known, rig, number }] = own;
    const domain = own.flatMap((one) => one.domain ?? [])[0];
    const clocks = own.flatMap((one) => one.clock ?? []);
    return {
      profile,
      key,
      value,
      admitted,
      known,
      rig,
      number,
      domain,
      clocks: isNonEmpty(clocks) ? clocksByName(clocks) : [],
    };
  });
}

interface Stated {
  readonly domain: number | undefined;
  readonly transport: PtpDomain['transport'];
  readonly delayMechanism: PtpDomain['delayMechanism'];
  readonly mode?: ClockFacts['mode'] | undefined;
}

function faultsOf(
  profile: Profile,
  { domain, transport, delayMechanism, mode }: Stated,
): readonly Pick<SettingFault, 'key' | 'value' | 'admitted' | 'known'>[] {
  const { least, most, range } = profile.domain;
  const admits = <T extends string>(
    key: PtpSettingKey,
    value: T | undefined,
    { value: admitted, known }: Sourced<readonly T[]>,
  ) => (value === undefined || admitted.includes(value) ? [] : [{ key, value, admitted, known }]);
  return [
    ...(domain === undefined || (domain >= least && domain <= most)
      ? []
      : [{ key: 'domain' as const, value: domain, admitted: [least, most], known: range.known }]),
    ...admits('transport', transport, profile.transports),
    ...admits('delayMechanism', delayMechanism, profile.delayMechanisms),
    ...(mode === 'e2e-transparent' || mode === 'p2p-transparent' ? admits('mode', mode, profile.transparent) : []),
  ];
}
