/** A baseline from its file. */
import type { Baseline } from '../lint/baseline.js';
import { RENAMED_RULES } from '../lint/profile.js';
import { check } from '../read/checks/baseline.js';
import { readAnyTree, type Input } from '../read/index.js';
import { validate } from '../read/validate.js';
import type { Document } from '../source/document.js';
import { locate } from '../source/locate.js';
import type { Problem } from '../source/problem.js';

export type BaselineResult =
  | { readonly baseline: Baseline; readonly problems: readonly [] }
  | { readonly baseline: undefined; readonly problems: readonly Problem[] };

export function readBaseline(input: Input): BaselineResult {
  const { document, problems: faults } = readAnyTree(input);
  if (document === undefined) return { baseline: undefined, problems: faults };
  const problems = isMeantAsOne(document) ? validate(document, { name: 'baseline', check }) : [somethingElse(document)];
  if (problems.length > 0) return { baseline: undefined, problems };
  const { findings } = document.value as Baseline;
  const renamed = renamedRules(document, findings);
  if (renamed.length > 0) return { baseline: undefined, problems: renamed };
  return { baseline: { findings }, problems: [] };
}

/** Under an old name an entry would accept nothing, and what it stood for would come back as new. */
function renamedRules(document: Document, findings: Baseline['findings']): readonly Problem[] {
  return findings.flatMap((entry): readonly Problem[] => {
    const now = RENAMED_RULES.get(entry.rule);
    if (now === undefined) return [];
    const { file, line, column, endLine, endColumn } = locate({ document, container: entry, key: 'rule' });
    return [
      {
        at: { file, line, column, endLine, endColumn },
        what: `no rule is called \`${entry.rule}\` any more`,
        instead: `write \`${now}\`, as it is called since version 0.2`,
      },
    ];
  });
}

function isMeantAsOne({ value }: Document): boolean {
  return typeof value === 'object' && value !== null && 'rigproofBaseline' in value;
}

function somethingElse(document: Document): Problem {
  const { file, line, column } = locate({ document, container: {} });
  return {
    at: { file, line, column, endLine: line, endColumn: column },
    what: 'this is not a baseline file',
    instead: 'write one with `rigproof lint PLAN --write-baseline FILE`',
  };
}
