import type { FindingWords, Receiver } from '../../../src/doors/rule.js';

export interface Facts {
  readonly receiver: Receiver;
}

export function words({ receiver }: Facts): FindingWords {
  return {
    what: `${receiver.label} takes any stream of a set, and no stream of the plan is in it`,
    onAir: 'there is nothing to choose: the input stays black or silent, and what it was meant to have counts nowhere',
    fix: 'write in `takes` what those streams have in common (`devices`, `kinds`, `area`, `essence`, `sender`), all of it at once, or list them by name',
  };
}
