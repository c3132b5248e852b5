import {
  agree,
  legLabel,
  listNames,
  nothingOf,
  type FindingWords,
  type Leg,
  type Receiver,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly receivers: readonly Receiver[];
  /** Legs they could take and do not. */
  readonly left: readonly Leg[];
  /** Names of the interfaces that reach these. */
  readonly free: readonly string[];
}

export function words({ receivers, left, free }: Facts): FindingWords<'one leg'> {
  const count = receivers.length;
  return {
    what: `${listNames(receivers.map(({ label }) => label))} ${agree(count, 'takes', 'take')} one leg; ${listNames(left.map(legLabel), 4)} ${agree(left.length, 'is', 'are')} in reach of ${listNames(free)} and not taken`,
    onAir: `when anything on the path of the leg it takes fails, ${agree(count, 'this receiver gets', 'these receivers get')} ${nothingOf(left.map(({ sender }) => sender))}, while others that take both legs show no fault`,
    fix: `receive the second leg on ${listNames(free)}`,
    label: (name) => `${name}: one leg`,
  };
}
