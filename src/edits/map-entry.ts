/** What findings on a wrong entry of a leg map have in common, whichever numbers of the legs show it. */
import type { WrongEntry } from '../model/groups/index.js';
import { formatPrefix } from '../values/address.js';
import { likely, type Cure } from './cure.js';
import { createEditList } from './edit-list.js';

/** The entry as texts, for facts. */
export interface MapEntryFacts {
  readonly first: string;
  readonly second: string;
  readonly side: 'first' | 'second';
  readonly should: string;
}

export function ofMapEntry({ entry, side, should }: Omit<WrongEntry<unknown>, 'broken'>): {
  readonly label: string;
  readonly written: MapEntryFacts;
  readonly cure: () => Cure;
} {
  const [first, second, meant] = [formatPrefix(entry.first), formatPrefix(entry.second), formatPrefix(should)];
  return {
    label: side === 'second' ? `map of ${first}` : `map to ${second}`,
    written: { first, second, side, should: meant },
    cure: () => {
      const edits = createEditList();
      edits.set(entry, side, meant);
      return likely(edits);
    },
  };
}
