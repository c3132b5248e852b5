/** Rigs that meet: what is wrong only because they do, and how to number them so that nothing is. */
import { comparePlans } from '../compare/compare.js';
import type { Comparison } from '../compare/steps.js';
import type { Finding } from '../lint/finding.js';
import { createIsNew } from '../lint/held-against.js';
import type { LintResult } from '../lint/result.js';
import type { Rule } from '../lint/rule.js';
import { findIn, type LintOptions } from '../lint/run.js';
import { createModel } from '../model/model.js';
import { loadDocuments } from '../plan/load.js';
import type { Input } from '../read/index.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import { dropShared } from './ancestor.js';
import { createKnown, judgeJoined } from './judge.js';
import { supposeJoins } from './joining.js';
import { meetingOf, type Meeting } from './meeting.js';
import { repairJoined, type Repair } from './repair/repair.js';
import { soundRepair } from './repair/sound.js';
import { readSides, resolveSides, type Side, type SideInput } from './sides.js';

export interface MergeOptions extends LintOptions {
  /** How the rigs are joined: plan files with `joins:` and tie `links:`. Empty: what is alike is taken to meet. */
  readonly joining?: readonly Input[];
  /** A plan all sides come from: what it has and nobody changed is one thing on all sides. */
  readonly ancestor?: readonly Input[];
  /** Propose new numbers. */
  readonly repair?: boolean;
  /** Name of the rig whose numbers stay. */
  readonly keep?: string | undefined;
  /** What could not even be opened. */
  readonly earlier?: readonly Problem[];
}

export interface MergeResult {
  readonly sides: readonly Side[];
  readonly joining: readonly Document[];
  /** What was taken to meet because nobody said; empty where somebody did. */
  readonly supposed: readonly string[];
  readonly problems: readonly Problem[];
  /** Undefined where an input can't be read. */
  readonly joined: LintResult | undefined;
  /** Findings a rig has alone too. */
  readonly own: readonly Finding[];
  readonly meeting: Meeting | undefined;
  readonly repaired: Repaired | undefined;
}

export interface Repaired {
  readonly repair: Repair;
  /** Findings of the repaired rigs that neither has alone. */
  readonly left: readonly Finding[];
  /** Those of them that were not there before the repair: none, unless it can't be written. */
  readonly fresh: readonly Finding[];
  readonly meeting: Meeting;
  /** What the crew has to do. */
  readonly comparison: Comparison;
}

/** Joins rigs. Never throws on bad input. */
export function mergeRigs(given: readonly SideInput[], rules: readonly Rule[], options: MergeOptions): MergeResult {
  const read = readSides(given);
  const joiningInputs = options.joining ?? [];
  const stated = loadDocuments(joiningInputs);
  const ancestor = loadDocuments(options.ancestor ?? []);
  const shared = dropShared(read.sides, ancestor.documents);
  const problems = [
    ...(options.earlier ?? []),
    ...read.problems,
    ...stated.problems,
    ...ancestor.problems,
    ...shared.problems,
  ];
  const { sides } = shared;
  const apart = resolveSides(sides);
  const supposed = joiningInputs.length > 0 ? { document: undefined, words: [] } : supposeJoins(apart.plan);
  const joining = [...stated.documents, ...(supposed.document === undefined ? [] : [supposed.document])];
  const whole = resolveSides(sides, joining);
  problems.push(...whole.problems);
  if (options.keep !== undefined && !sides.some(({ name }) => name === options.keep))
    problems.push(noSuchRig(options.keep, sides));
  if (problems.length > 0)
    return {
      sides,
      joining,
      supposed: supposed.words,
      problems,
      joined: undefined,
      own: [],
      meeting: undefined,
      repaired: undefined,
    };

  const aloneModels = sides.map((side) => createModel(resolveSides([side]).plan));
  const known = createKnown(aloneModels.map((model) => findIn(model, rules, options)));
  const model = createModel(whole.plan);
  const { joined, own } = judgeJoined(model, known, rules, options);
  const result: MergeResult = {
    sides,
    joining,
    supposed: supposed.words,
    problems: [],
    joined,
    own,
    meeting: meetingOf(model, aloneModels),
    repaired: undefined,
  };
  if (options.repair !== true) return result;

  const isNew = createIsNew(joined.findings);
  const { repair, repairedModel, left, fresh } = soundRepair((without) => {
    const one = repairJoined({ sides, joining }, model, options.keep, without);
    const { findings } = one.model === model ? joined : judgeJoined(one.model, known, rules, options).joined;
    return {
      repair: one.repair,
      repairedModel: one.model,
      left: findings,
      fresh: findings.filter(isNew),
    };
  });
  return {
    ...result,
    repaired: {
      repair,
      left,
      fresh,
      meeting: meetingOf(repairedModel, aloneModels),
      comparison: comparePlans(apart.plan, repair.plan),
    },
  };
}

function noSuchRig(name: string, sides: readonly Side[]): Problem {
  return {
    at: { file: sides[0]?.from ?? '', line: 1, column: 1, endLine: 1, endColumn: 1 },
    what: `none of the plans is of a rig called \`${name}\``,
    instead: `keep ${sides.map((side) => side.name).join(' or ')}`,
  };
}
