import type { FindingWords } from '../../../src/doors/rule.js';

interface Served {
  readonly clock: string;
  /** Clocks that follow it directly. */
  readonly followers: number;
}

export type Facts = Served &
  (
    | { readonly form: 'followers'; readonly capacity: number }
    | {
        readonly form: 'requests';
        readonly requestsPerSecond: number;
        readonly capacityPerSecond: number;
        /** As many as it can answer. */
        readonly mostFollowers: number;
      }
  );

export function words(facts: Facts): FindingWords<never> {
  const { clock, followers } = facts;
  const byCount = facts.form === 'followers';
  return {
    what: byCount
      ? `${followers} clocks follow ${clock} directly, and it serves ${facts.capacity}`
      : `${followers} clocks send ${clock} ${facts.requestsPerSecond} delay requests a second, and it answers ${facts.capacityPerSecond}`,
    onAir:
      'delay requests go unanswered: some clocks never lock or lose lock, different ones each time, and their pictures and sound drift',
    fix: byCount
      ? `let a boundary clock stand between ${clock} and its followers, so that no more than ${facts.capacity} follow it directly`
      : `let boundary clocks answer for it, no more than ${facts.mostFollowers} clocks to follow it directly, or send fewer delay requests`,
  };
}
