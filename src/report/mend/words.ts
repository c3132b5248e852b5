/** Why a finding is not mended, in words. */
import type { LeftOut } from '../../mend/mend.js';
import { positionOf } from '../../source/locate.js';
import { listNames } from '../../words/lists.js';

export function leftOutWords(why: LeftOut): string {
  switch (why.kind) {
    case 'people':
      return `people decide: ${why.why}`;
    case 'likely':
      return 'its cure is likely, not certain: look at it with --likely';
    case 'clashes':
      return `${why.with.rule} about ${why.with.subject} wants another value in the same place: mend it first, then this`;
    case 'unwritable':
      return why.problems
        .map(({ at, what, instead }) => `${at.file} ${positionOf(at)}: ${what}; ${instead}`)
        .slice(0, 1)
        .join('');
    case 'unsound': {
      const brought = why.fresh.map((finding) => `${finding.rule} about ${finding.subject}`);
      const parts = [
        ...(why.stays ? ['leave its finding'] : []),
        ...(brought.length === 0 ? [] : [`bring ${listNames(brought, 3)}`]),
      ];
      return `its edits would ${parts.join(' and ')}, so they are not made`;
    }
  }
}
