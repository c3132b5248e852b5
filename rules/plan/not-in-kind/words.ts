import { listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { EntryList } from '../../../src/doors/plan.js';

export interface Facts {
  readonly device: string;
  readonly kind: string;
  readonly list: EntryList;
  readonly entry: string;
  /** Names in the kind, at least one. */
  readonly meant: readonly string[];
}

const ONE: Readonly<Record<EntryList, string>> = { interfaces: 'interface', senders: 'sender', receivers: 'receiver' };

export function words({ device, kind, list, entry, meant }: Facts): FindingWords<never> {
  const one = ONE[list];
  return {
    what: `${device} writes the ${one} ${entry}, which its kind ${kind} does not have, and nothing of its ${listNames(meant)}`,
    onAir: `the plan gives the box one ${one} more than it has, and what was meant for ${listNames(meant)} is not set: that ${one} has no numbers of its own`,
    fix: `call it ${listNames(meant, 3)} as the kind does; where it is one more, give it a name further from ${meant.length === 1 ? 'that' : 'those'}`,
  };
}
