/** The report for programs: one document in the shape of `schemas/report.schema.json`. */
import { type Citation, formatCitation } from '../../lint/citation.js';
import { findingText, SEVERITIES, type Finding, type LabelledLocation } from '../../lint/finding.js';
import type { LintResult, RuleInfo } from '../../lint/result.js';
import { plainFacts } from '../../words/plain-facts.js';
import { CAUTION } from '../caution.js';
import { cureJson, curesOf } from './cures.js';
import { locationJson, problemJson, toolJson } from '../common-json.js';
import { byEffect } from '../../lint/rank.js';
import { effectJson } from './effect-words.js';
import { tasksOf } from './tasks.js';
import { assumptionWords } from './assumptions.js';
import { notJudgedWords } from './not-judged.js';
import { ratelessJson } from './rateless.js';
import { unaddressedJson } from './unaddressed.js';
import { receiversJson } from './receivers.js';
import { leavesOpen } from '../../lint/unjudged.js';

/** Keys come in a fixed order and lists in the order of the result. */
export function lintJson(result: LintResult, version: string): object {
  const cureOf = curesOf([...result.findings, ...result.waived.map(({ finding }) => finding), ...result.known]);
  const json = (finding: Finding): object => {
    const cure = cureOf(finding);
    return { ...findingJson(finding), ...(cure === undefined ? {} : { cure: cureJson(cure) }) };
  };
  return {
    format: 1,
    tool: toolJson(version),
    complete: result.problems.length === 0 && result.crashed.length === 0,
    totals: totalsOf(result),
    files: result.files.map(({ name, format }) => ({ name, format })),
    plan: planOf(result),
    rules: result.rulesRun.map(ruleOf),
    findings: rankedJson(result.findings, json),
    waived: result.waived.map(({ finding, reason, until }) => {
      return { finding: json(finding), reason, ...(until === undefined ? {} : { until }) };
    }),
    baselineUsed: result.baselineUsed,
    known: result.known.map(json),
    staleBaseline: result.staleBaseline.map(({ rule, subject }) => ({ rule, subject })),
    ...(result.receivers === undefined ? {} : { receivers: receiversJson(result.receivers) }),
    withoutRate: ratelessJson(result.rateless),
    withoutAddress: unaddressedJson(result.unaddressed),
    judgedWhole: !leavesOpen(result),
    notJudged: result.notJudged.map((one) => ({ ...notJudgedWords(one), rules: one.rules })),
    assumptions: assumptionWords(result.assumptions),
    crashed: result.crashed.map(({ rule, message }) => ({ rule, message })),
    problems: result.problems.map(problemJson),
    caution: CAUTION,
  };
}

/** In the order of files; rank and block are those of the text report. */
function rankedJson(findings: readonly Finding[], json: (finding: Finding) => object): readonly object[] {
  const rankOf = new Map(findings.toSorted(byEffect).map((finding, index) => [finding, index + 1]));
  const blockOf = new Map(
    tasksOf(findings).flatMap(({ number, findings: own }) => own.map((finding) => [finding, number] as const)),
  );
  return findings.map((finding) => ({
    rank: rankOf.get(finding),
    block: blockOf.get(finding),
    ...json(finding),
  }));
}

function totalsOf(result: LintResult): Record<string, number> {
  const bySeverity = SEVERITIES.map((severity): [string, number] => {
    return [`${severity}s`, result.findings.filter((finding) => finding.severity === severity).length];
  });
  return { ...Object.fromEntries(bySeverity), waived: result.waived.length, known: result.known.length };
}

function planOf({ counts }: LintResult): LintResult['counts'] {
  return {
    devices: counts.devices,
    interfaces: counts.interfaces,
    senders: counts.senders,
    legs: counts.legs,
    receivers: counts.receivers,
    switches: counts.switches,
    links: counts.links,
    vlans: counts.vlans,
  };
}

function ruleOf({ id, summary, severity, sources }: RuleInfo): unknown {
  return { id, summary, severity, sources: sources.map(sourceOf) };
}

/** A finding as every JSON document shows it. */
export function findingJson(finding: Finding): Readonly<Record<string, unknown>> {
  const text = findingText(finding);
  return {
    rule: finding.rule,
    severity: finding.severity,
    confidence: finding.confidence,
    subject: finding.subject,
    parties: finding.parties,
    touch: { kind: finding.touch.kind, name: finding.touch.name },
    brief: { of: finding.brief.of, fault: text.brief },
    effect: effectJson(finding.effect),
    boxes: finding.boxes,
    what: text.what,
    onAir: text.onAir,
    fix: text.fix,
    facts: plainFacts(finding.facts, (what) => what),
    at: labelledOf(finding.at, text.at),
    others: finding.others.map((other, index) => labelledOf(other, text.others[index] ?? other.label)),
    sources: finding.sources.map(sourceOf),
  };
}

function labelledOf(location: LabelledLocation, label: string): unknown {
  return { ...locationJson(location), label };
}

function sourceOf(citation: Citation): unknown {
  const text = formatCitation(citation);
  if ('practice' in citation) return { practice: citation.practice, text };
  const { document, clause, fromMemory } = citation;
  return { document, clause, ...(fromMemory === true ? { fromMemory } : {}), text };
}
