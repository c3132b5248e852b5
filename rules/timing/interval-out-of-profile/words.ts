import { listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { IntervalKey } from '../../../src/doors/timing.js';

/** A value and the range it is outside of. Intervals are log2 of seconds, the timeout is in announce intervals. */
interface Limits {
  readonly key: IntervalKey;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** The profile's default, or what of the range is nearest to it. */
  readonly usual: number;
  readonly profile: string;
  /** The profile that is meant, where what stands beside speaks for another one. */
  readonly instead: string | undefined;
}

export type Facts = Limits &
  (
    | {
        readonly form: 'domain';
        readonly domain: number | string;
        /** What most of its clocks state. */
        readonly stated: number | undefined;
      }
    | { readonly form: 'clocks'; readonly clocks: readonly string[] }
  );

export function words(facts: Facts): FindingWords<never> {
  const { key, value, least, most, profile, instead } = facts;
  const who = facts.form === 'domain' ? `domain ${facts.domain}` : listNames(facts.clocks);
  return {
    what: `${key} ${value} of ${who} is outside ${least} to ${most}, the range of ${profile}`,
    onAir:
      'gear that keeps to the profile refuses the setting or falls back to its own: clocks then time out or never lock, and their pictures and sound drift or flap',
    fix: instead === undefined ? intervalFix(facts) : profileFix(facts, instead),
  };
}

function intervalFix(facts: Facts): string {
  const { key, least, most, usual, profile } = facts;
  const said = facts.form === 'domain' ? facts.stated : undefined;
  const range = `set ${key} to a value from ${least} to ${most}`;
  return said === undefined
    ? `${range}; ${profile} has ${usual} as default`
    : `${range}, best to ${said} as its clocks have it`;
}

function profileFix(facts: Facts, instead: string): string {
  return facts.form === 'domain'
    ? `name ${instead} as its profile: that admits all the intervals it states`
    : `name ${instead} as profile of ${listNames(facts.clocks)}, as their domain does: that admits all the intervals they state`;
}
