/**
 * Cures carried out: the edits are made in memory, the plan is read and judged again, and only what removes its finding
 * and brings no other error or warning stays. A cure is carried out whole or not at all.
 */
import { append } from '../collections/group-by.js';
import type { Cure } from '../edits/cure.js';
import type { Edit } from '../edits/entry.js';
import { findingCure, findingKey, type Finding } from '../lint/finding.js';
import { createIsNew } from '../lint/held-against.js';
import type { LintResult } from '../lint/result.js';
import type { Rule } from '../lint/rule.js';
import { lintPlan, type LintOptions } from '../lint/run.js';
import { loadDocuments, type Inputs } from '../plan/load.js';
import { resolvePlan } from '../plan/resolve/index.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { applyEdits } from '../splice/edit.js';
import type { Splice } from '../splice/splice.js';
import { combine } from './combine.js';

export interface MendOptions extends Omit<LintOptions, 'model'> {
  /** Likely cures too; else the certain ones alone. */
  readonly likely?: boolean;
  /** Which findings; absent: all. */
  readonly wanted?: ((finding: Finding) => boolean) | undefined;
}

/** Why a finding is not mended. */
export type LeftOut =
  | { readonly kind: 'people'; readonly why: string }
  /** There is a likely cure, and nobody asked for those. */
  | { readonly kind: 'likely' }
  /** Another cure wants another value for one of the same entries. */
  | { readonly kind: 'clashes'; readonly with: Finding }
  | { readonly kind: 'unwritable'; readonly problems: readonly Problem[] }
  /** Its finding stays, or others come. */
  | { readonly kind: 'unsound'; readonly stays: boolean; readonly fresh: readonly Finding[] };

/** A file before and after. */
export interface MendedFile {
  readonly name: string;
  readonly before: Document;
  readonly after: Document;
  /** Characters of the old text that changed. */
  readonly splices: readonly Splice[];
}

export interface MendResult {
  /** The plan as it was read. */
  readonly before: LintResult;
  /** The plan with the cures made; undefined where it was not judged whole. */
  readonly after: LintResult | undefined;
  readonly mended: readonly { readonly finding: Finding; readonly cure: Cure }[];
  readonly left: readonly { readonly finding: Finding; readonly why: LeftOut }[];
  /** Those that change. */
  readonly files: readonly MendedFile[];
  /** Every document with the cures made, in the order of the inputs. */
  readonly documents: readonly Document[];
}

interface Candidate {
  readonly finding: Finding;
  readonly cure: Cure;
  readonly edits: readonly Edit[];
}

interface Trial {
  readonly files: readonly MendedFile[];
  readonly documents: readonly Document[];
  readonly lint: LintResult;
  readonly stays: readonly Finding[];
  readonly fresh: readonly Finding[];
}

/** Mends what it can of the plan in inputs. Nothing is mended in a plan that can't be judged whole. */
export function mendPlan({ inputs, problems }: Inputs, rules: readonly Rule[], options: MendOptions): MendResult {
  const loaded = loadDocuments(inputs, problems);
  const { documents } = loaded;
  const resolved = resolvePlan(documents);
  const whole = loaded.whole && resolved.problems.length === 0;
  const before = lintPlan(resolved.plan, rules, whole ? options : { ...options, incomplete: true }, [
    ...loaded.problems,
    ...resolved.problems,
  ]);
  if (!whole || before.crashed.length > 0)
    return { before, after: undefined, mended: [], left: [], files: [], documents };

  const left: { finding: Finding; why: LeftOut }[] = [];
  const candidates: Candidate[] = [];
  // Every cure is asked for, wanted or not, in order: what one finding is offered does not hang on who asks.
  for (const finding of before.findings) {
    const cure = findingCure(finding);
    if (options.wanted?.(finding) === false) continue;
    if (cure.certainty === 'people') left.push({ finding, why: { kind: 'people', why: cure.why } });
    else if (cure.certainty === 'likely' && options.likely !== true) left.push({ finding, why: { kind: 'likely' } });
    else candidates.push({ finding, cure, edits: cure.edits });
  }
  // Where two cures contradict each other the certain one goes first.
  const sorted = candidates.toSorted(
    (a, b) => Number(a.cure.certainty !== 'certain') - Number(b.cure.certainty !== 'certain'),
  );
  const { taken, clashes } = combine(sorted);
  for (const clash of clashes)
    left.push({ finding: clash.of.finding, why: { kind: 'clashes', with: clash.with.finding } });

  const attempt = (cures: readonly Candidate[]): Trial | readonly Problem[] =>
    tryOut(documents, cures, before, rules, options);
  const untouched: Trial = { files: [], documents, lint: before, stays: [], fresh: [] };
  const { sound, trial, failed } = largestSound(taken, attempt, untouched);
  left.push(...failed);
  return {
    before,
    after: trial.lint,
    mended: sound.map(({ finding, cure }) => ({ finding, cure })),
    left,
    files: trial.files,
    documents: trial.documents,
  };
}

interface Largest {
  readonly sound: readonly Candidate[];
  /** The plan with those carried out. */
  readonly trial: Trial;
  readonly failed: readonly { readonly finding: Finding; readonly why: LeftOut }[];
}

/** All cures where they are sound together; else as many as halves and halves of halves show to be. */
function largestSound(
  cures: readonly Candidate[],
  attempt: (cures: readonly Candidate[]) => Trial | readonly Problem[],
  untouched: Trial,
): Largest {
  let sound: readonly Candidate[] = [];
  let last = untouched;
  const failed: { finding: Finding; why: LeftOut }[] = [];
  const open: (readonly Candidate[])[] = cures.length === 0 ? [] : [cures];
  for (let batch = open.pop(); batch !== undefined; batch = open.pop()) {
    const trial = attempt([...sound, ...batch]);
    if (isTrial(trial) && trial.stays.length === 0 && trial.fresh.length === 0) {
      sound = [...sound, ...batch];
      last = trial;
      continue;
    }
    const [only] = batch;
    if (batch.length === 1 && only !== undefined) {
      failed.push({ finding: only.finding, why: reasonOf(trial) });
      continue;
    }
    const middle = batch.length >> 1;
    open.push(batch.slice(middle), batch.slice(0, middle));
  }
  return { sound, trial: last, failed };
}

function reasonOf(trial: Trial | readonly Problem[]): LeftOut {
  if (!isTrial(trial)) return { kind: 'unwritable', problems: trial };
  return { kind: 'unsound', stays: trial.stays.length > 0, fresh: trial.fresh };
}

function isTrial(trial: Trial | readonly Problem[]): trial is Trial {
  return 'lint' in trial;
}

/** The plan with cures made, judged; or why they can't be written. */
function tryOut(
  documents: readonly Document[],
  cures: readonly Candidate[],
  before: LintResult,
  rules: readonly Rule[],
  options: MendOptions,
): Trial | readonly Problem[] {
  const byDocument = new Map<Document, Edit[]>();
  for (const edit of combine(cures).edits) append(byDocument, edit.document, edit);
  const problems: Problem[] = [];
  const files: MendedFile[] = [];
  const now = documents.map((document) => {
    const own = byDocument.get(document);
    if (own === undefined) return document;
    const applied = applyEdits(document, own);
    if (applied.text === undefined) {
      problems.push(...applied.problems);
      return document;
    }
    if (applied.text === document.content) return document;
    files.push({ name: document.name, before: document, after: applied.document, splices: applied.splices });
    return applied.document;
  });
  if (problems.length > 0) return problems;
  const resolved = resolvePlan(now);
  if (resolved.problems.length > 0) return resolved.problems;
  const lint = lintPlan(resolved.plan, rules, options);
  return {
    files,
    documents: now,
    lint,
    ...heldAgainst(
      before,
      lint,
      cures.map(({ finding }) => finding),
    ),
  };
}

/** Which of the mended findings are still there, and which errors and warnings were not. */
function heldAgainst(
  before: LintResult,
  after: LintResult,
  mended: readonly Finding[],
): { readonly stays: readonly Finding[]; readonly fresh: readonly Finding[] } {
  const now = new Set(after.findings.map(findingKey));
  const isNew = createIsNew([...before.findings, ...before.known, ...before.waived.map((one) => one.finding)]);
  return {
    stays: mended.filter((finding) => now.has(findingKey(finding))),
    fresh: after.findings.filter((finding) => finding.severity !== 'note' && isNew(finding)),
  };
}
