/** Cures as SARIF prints them: fix objects (SARIF 2.1.0 §3.55) that replace characters of the files. */
import { groupBy } from '../../collections/group-by.js';
import type { Edit } from '../../edits/entry.js';
import { findingCure, type Finding } from '../../lint/finding.js';
import type { Document } from '../../source/document.js';
import { LineIndex } from '../../source/line-index.js';
import { toLocation } from '../../source/locate.js';
import { splicesOfEach } from '../../splice/edit.js';
import type { Splice } from '../../splice/splice.js';
import type { ArtifactLocation, Fix, Replacement } from './sarif-types.js';

/** The fix of a finding; undefined where people decide, or where the edits can't be written into one of the files. */
export type FixOf = (finding: Finding) => Fix | undefined;

/** Looks all up at once: each document is walked once, however many fixes there are. */
export function fixesOf(findings: readonly Finding[], locationOf: (file: string) => ArtifactLocation): FixOf {
  const sets = findings.flatMap((finding) => {
    const cure = findingCure(finding);
    if (cure.certainty === 'people') return [];
    return [...groupBy(cure.edits, ({ document }) => document)].map(([document, edits]) => ({
      finding,
      certainty: cure.certainty,
      document,
      edits,
    }));
  });
  const changes = new Map<
    object,
    { readonly document: Document; readonly replacements: readonly Replacement[] | undefined }[]
  >();
  const certainties = new Map<object, 'certain' | 'likely'>();
  for (const [document, own] of groupBy(sets, (set) => set.document)) {
    const lines = typeof document.content === 'string' ? new LineIndex(document.content) : undefined;
    const splices = splicesOfEach(
      document,
      own.map((set): readonly Edit[] => set.edits),
    );
    own.forEach(({ finding: { curing }, certainty }, index) => {
      if (curing === undefined) return;
      const list = changes.get(curing) ?? [];
      changes.set(curing, list);
      certainties.set(curing, certainty);
      const found = splices[index];
      list.push({
        document,
        replacements: lines && found?.map((splice) => replacementOf(document.name, lines, splice)),
      });
    });
  }
  return ({ curing }) => {
    const own = curing === undefined ? undefined : changes.get(curing);
    const certainty = curing === undefined ? undefined : certainties.get(curing);
    if (own === undefined || certainty === undefined) return undefined;
    const artifactChanges = own.flatMap(({ document, replacements }) =>
      replacements === undefined || replacements.length === 0
        ? []
        : [{ artifactLocation: locationOf(document.name), replacements }],
    );
    // All of a cure or nothing of it.
    if (artifactChanges.length < own.length) return undefined;
    return { description: { text: DESCRIPTIONS[certainty] }, artifactChanges };
  };
}

const DESCRIPTIONS = {
  certain: 'Certain: the plan leaves this one answer, or any of several that are equally right.',
  likely: 'Likely: the usual answer; somebody who knows the rig has to look at it.',
} as const;

function replacementOf(file: string, lines: LineIndex, splice: Splice): Replacement {
  const { line, column, endLine, endColumn } = toLocation(file, lines, splice);
  return {
    deletedRegion: { startLine: line, startColumn: column, endLine, endColumn },
    ...(splice.text === '' ? {} : { insertedContent: { text: splice.text } }),
  };
}
