import type { MendResult } from '../../mend/mend.js';
import type { FileDifference } from '../../page/difference.js';
import { hunksOf } from './hunks.js';

/** The files that change, line by line. */
export function differencesOf({ files }: MendResult): readonly FileDifference[] {
  return files.flatMap(({ name, before, splices }) =>
    typeof before.content === 'string' ? [{ name, hunks: hunksOf(before.content, splices) }] : [],
  );
}
