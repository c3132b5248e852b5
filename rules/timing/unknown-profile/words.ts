import { listNames, listOr, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly name: string;
  /** The known name it is one slip away from. */
  readonly meant: string | undefined;
  readonly known: readonly string[];
  readonly users: readonly string[];
}

export function words({ name, meant, known, users }: Facts): FindingWords<never> {
  return {
    what: `${name}, the PTP profile of ${listNames(users)}, is none that is known here`,
    onAir:
      'intervals and defaults are not held against a profile: what its gear refuses is seen when clocks do not lock',
    fix:
      meant === undefined
        ? `write the profile that is meant, ${listOr(known)}; a profile of another trade stays as it is, and is not judged`
        : `write ${meant}`,
  };
}
