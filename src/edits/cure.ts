/**
 * How a finding is mended, as data. `certain`: the plan leaves one right answer, or the program picks among answers that
 * are equally right (a free group). `likely`: the usual answer; who wrote the plan may have meant another.
 */
import { isNonEmpty, type NonEmpty } from '../collections/non-empty.js';
import type { EditList } from './edit-list.js';
import type { Edit } from './entry.js';

export const CERTAINTIES = ['certain', 'likely', 'people'] as const;
export type Certainty = (typeof CERTAINTIES)[number];

export type Cure =
  | {
      readonly certainty: 'certain' | 'likely';
      /** All of them or none. */
      readonly edits: NonEmpty<Edit>;
    }
  | {
      readonly certainty: 'people';
      /** Why no edit of the plan decides it, as the end of a sentence that begins with "people decide:". */
      readonly why: string;
    };

/** The edits as a certain cure; people decide where there are none, for the reason given. */
export function certainly(edits: EditList, otherwise = NOT_FOUND): Cure {
  return cureOf('certain', edits, otherwise);
}

/** The edits as a likely cure; people decide where there are none, for the reason given. */
export function likely(edits: EditList, otherwise = NOT_FOUND): Cure {
  return cureOf('likely', edits, otherwise);
}

/** What no edit of the plan decides. */
export function peopleDecide(why: string): Cure {
  return { certainty: 'people', why };
}

const NOT_FOUND = 'nothing free or known to write';

function cureOf(certainty: 'certain' | 'likely', edits: EditList, otherwise: string): Cure {
  const all = edits.all();
  return isNonEmpty(all) ? { certainty, edits: all } : peopleDecide(otherwise);
}
