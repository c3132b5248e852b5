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
}

export type Facts = Limits &
  (
    | { readonly form: 'domain'; readonly domain: number | string }
    | { readonly form: 'clocks'; readonly clocks: readonly string[] }
  );

export function words(facts: Facts): FindingWords<never> {
  const { key, value, least, most, usual, profile } = facts;
  const who = facts.form === 'domain' ? `domain ${facts.domain}` : listNames(facts.clocks);
  return {
    what: `${key} ${value} of ${who} is outside ${least} to ${most}, the range of ${profile}`,
    onAir:
      'gear that keeps to the profile refuses the setting or falls back to its own: clocks then time out or never lock, and their pictures and sound drift or flap',
    fix: `set ${key} to a value from ${least} to ${most}; ${profile} has ${usual} as default`,
  };
}
