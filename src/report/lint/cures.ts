/** How findings are mended, as reports print it: each edit with its place, its path and what it says before and after. */
import { groupBy } from '../../collections/group-by.js';
import type { Cure } from '../../edits/cure.js';
import type { Edit } from '../../edits/entry.js';
import { findingCure, type Finding } from '../../lint/finding.js';
import type { Location } from '../../source/document.js';
import { locateAll } from '../../source/locate.js';
import { pathsOf } from '../../splice/path.js';
import { valueAt } from '../../splice/splice.js';
import type { WrittenEdit } from '../../splice/written.js';
import { locationJson } from '../common-json.js';

/** An edit that needs no document at hand, and where it stands now. */
export interface ShownEdit extends WrittenEdit {
  readonly at: Location;
}

export type ShownCure =
  | { readonly certainty: 'certain' | 'likely'; readonly edits: readonly ShownEdit[] }
  | Extract<Cure, { readonly certainty: 'people' }>;

/** The cure of a finding; undefined where its rule says nothing of edits. */
export type CureOf = (finding: Finding) => ShownCure | undefined;

/** Looks all cures up at once: each document is walked once, however many there are. */
export function curesOf(findings: readonly Finding[]): CureOf {
  const cures = new Map<object, Cure>();
  for (const finding of findings) if (finding.curing !== undefined) cures.set(finding.curing, findingCure(finding));
  const edits = [...cures.values()].flatMap((cure): readonly Edit[] => (cure.certainty === 'people' ? [] : cure.edits));
  const at = locateAll(edits);
  const written = new Map<Edit, ShownEdit>();
  for (const [document, own] of groupBy(edits, (edit) => edit.document)) {
    pathsOf(document, own).forEach((path, index) => {
      const edit = own[index];
      if (edit === undefined || path === undefined) return;
      const { container, key, value } = edit;
      written.set(edit, { file: document.name, path, old: valueAt(container, key), new: value, at: at(edit) });
    });
  }
  return ({ curing }) => {
    const cure = curing === undefined ? undefined : cures.get(curing);
    if (cure === undefined || cure.certainty === 'people') return cure;
    return { certainty: cure.certainty, edits: cure.edits.flatMap((edit) => written.get(edit) ?? []) };
  };
}

/** `old` and `new` are left out where the entry says nothing before or after. */
export function cureJson(cure: ShownCure): object {
  if (cure.certainty === 'people') return { certainty: 'people', why: cure.why };
  return {
    certainty: cure.certainty,
    edits: cure.edits.map(({ file, path, old, new: now, at }) => ({
      file,
      path,
      ...(old === undefined ? {} : { old }),
      ...(now === undefined ? {} : { new: now }),
      at: locationJson(at),
    })),
  };
}
