/** From inputs to a plan: reading and resolving, the one way there is. */
import { isSparable, readDocument, type Input } from '../read/index.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { resolvePlan } from './resolve/index.js';
import type { Plan } from './types.js';

/** What could be opened, and what could not: the two go together, so that nothing is judged as if it were all there. */
export interface Inputs {
  readonly inputs: readonly Input[];
  readonly problems: readonly Problem[];
}

export interface LoadedDocuments {
  /** Whatever could be read, in the order of the inputs. */
  readonly documents: readonly Document[];
  readonly problems: readonly Problem[];
  /** False when a plan or stream list could not be read, so that a part of the rig is missing. */
  readonly whole: boolean;
}

export interface LoadedPlan {
  readonly plan: Plan;
  readonly problems: readonly Problem[];
  /** False when a part of the rig is missing, or a value of it can't be told. */
  readonly whole: boolean;
}

/** Reads inputs; `earlier` is what could not even be opened. */
export function loadDocuments(inputs: readonly Input[], earlier: readonly Problem[] = []): LoadedDocuments {
  const documents: Document[] = [];
  const problems: Problem[] = [...earlier];
  let whole = earlier.length === 0;
  for (const input of inputs) {
    const read = readDocument(input);
    if (read.document !== undefined) documents.push(read.document);
    else {
      problems.push(...read.problems);
      whole &&= isSparable(input);
    }
  }
  return { documents, problems, whole };
}

/** Reads and resolves inputs; the plan holds whatever could be read. */
export function loadPlan(inputs: readonly Input[], earlier: readonly Problem[] = []): LoadedPlan {
  const { documents, problems, whole } = loadDocuments(inputs, earlier);
  const resolved = resolvePlan(documents);
  return {
    plan: resolved.plan,
    problems: [...problems, ...resolved.problems],
    whole: whole && resolved.problems.length === 0,
  };
}
