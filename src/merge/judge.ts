/** What is wrong with rigs only because they meet. */
import { append } from '../collections/group-by.js';
import { covers } from '../lint/baseline.js';
import { type Finding, findingKey, type LabelledLocation } from '../lint/finding.js';
import type { LintResult } from '../lint/result.js';
import { lintPlan, type Found, type LintOptions } from '../lint/run.js';
import type { Rule } from '../lint/rule.js';
import type { Model } from '../model/model.js';
import type { Document } from '../source/document.js';
import type { Side } from './sides.js';

export interface Judgement {
  /** The joined rig; its findings are those that are new by the joining. */
  readonly joined: LintResult;
  /** Findings of the joined rig that one rig has alone too. */
  readonly own: readonly Finding[];
}

/** Lints the joined rig and keeps apart what each rig brings along: what `known` knows. */
export function judgeJoined(
  model: Model,
  known: (finding: Finding) => boolean,
  rules: readonly Rule[],
  options: LintOptions,
): Judgement {
  const whole = lintPlan(model.plan, rules, { ...options, model });
  // What a waiver was for may read otherwise where rigs meet: each rig judges its own.
  const ofWaivers = new Set(rules.filter(({ stage }) => stage === 'waivers').map(({ id }) => id));
  const own = whole.findings.filter((finding) => ofWaivers.has(finding.rule) || known(finding));
  const ownSet = new Set(own);
  return { joined: { ...whole, findings: whole.findings.filter((finding) => !ownSet.has(finding)) }, own };
}

/**
 * A finding is a rig's own when the rig alone has one of the same rule, about the same thing or at the same place, in
 * which nobody is missing who is involved now; or which pointed at all the same places, whoever else it concerns now.
 */
export function createKnown(alone: readonly Found[]): (finding: Finding) => boolean {
  const byKey = new Map<string, Finding[]>();
  const add = (key: string, finding: Finding): void => {
    append(byKey, key, finding);
  };
  for (const { findings, waived } of alone) {
    for (const finding of [...findings, ...waived]) {
      add(findingKey(finding), finding);
      add(placeKey(finding), finding);
    }
  }
  return (finding) =>
    [findingKey(finding), placeKey(finding)].some((key) =>
      byKey
        .get(key)
        ?.some(
          (known) =>
            known.at.file === finding.at.file &&
            (covers(known.parties, finding.parties) || pointsAtAll(known, finding)),
        ),
    );
}

function pointsAtAll(known: Finding, finding: Finding): boolean {
  const places = new Set([known.at, ...known.others].map(placeText));
  return [finding.at, ...finding.others].every((at) => places.has(placeText(at)));
}

function placeText({ file, line, column }: LabelledLocation): string {
  return `${file}\n${line}\n${column}`;
}

function placeKey({ rule, at }: Finding): string {
  return `${rule}\n${placeText(at)}`;
}

/** The same findings with the rig's name before every place, so that it is plain who holds which side. */
export function withSides(findings: readonly Finding[], sides: readonly Side[]): readonly Finding[] {
  const sideOf = sidesByFile(sides);
  const named = (at: LabelledLocation): LabelledLocation => {
    const side = sideOf.get(at.file);
    return side === undefined ? at : { ...at, side };
  };
  return findings.map((finding) => ({ ...finding, at: named(finding.at), others: finding.others.map(named) }));
}

/** Name of the side each file belongs to. */
export function sidesByFile(sides: readonly Side[]): ReadonlyMap<string, string> {
  return new Map(
    sides.flatMap(({ name, documents }) => documents.map((document: Document) => [document.name, name] as const)),
  );
}

/** Names of the rigs whose files a finding points into. */
export function rigsOf(finding: Finding, sideOf: ReadonlyMap<string, string>): readonly string[] {
  return [...new Set([finding.at, ...finding.others].flatMap(({ file }) => sideOf.get(file) ?? []))].sort();
}
