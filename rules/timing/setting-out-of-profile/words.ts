import { listNames, listOr, type FindingWords } from '../../../src/doors/rule.js';
import type { PtpSettingKey } from '../../../src/doors/timing.js';

export interface Facts {
  readonly key: PtpSettingKey;
  readonly value: string | number;
  /** The usual one first; of a domain number the least and the most. */
  readonly admitted: readonly (string | number)[];
  readonly profile: string;
  /** The domain that states it; undefined where clocks alone do. */
  readonly domain: number | string | undefined;
  readonly clocks: readonly string[];
}

export function words({ key, value, admitted, profile, domain, clocks }: Facts): FindingWords<never> {
  const who = [...(domain === undefined ? [] : [key === 'domain' ? 'the plan' : `domain ${domain}`]), ...clocks];
  const admits = key === 'domain' ? admitted.join(' to ') : listOr(admitted.map(String));
  const what = {
    domain: `${listNames(who)} ${who.length === 1 ? 'has' : 'have'} the domain number ${value}`,
    transport: `the transport of ${listNames(who)} is ${value}`,
    delayMechanism: `${listNames(who)} ${who.length === 1 ? 'measures' : 'measure'} delay by ${value}`,
    mode: `${listNames(who)} ${who.length === 1 ? 'is' : 'are'} set to ${value}`,
  }[key];
  return {
    what: `${what}, and ${profile} admits ${admits} alone`,
    onAir:
      key === 'mode'
        ? 'gear that keeps to the profile measures delay in another way than this box corrects it: the time behind it is off by what the box takes to pass messages on'
        : 'gear that keeps to the profile has no such setting: it stays on its own, hears no clock of this domain, and its pictures and sound drift',
    fix:
      key === 'domain'
        ? `give the domain a number from ${admits}`
        : `set ${key} of ${listNames(who)} to ${admits}, or name the profile that is meant`,
  };
}
