/** A baseline: findings of an inherited plan, accepted once, so that only new ones fail. */
import { type Finding, findingKey } from './finding.js';
import { byCodeUnit } from '../collections/order.js';

export interface BaselineEntry {
  readonly rule: string;
  readonly subject: string;
  /** Who was involved when it was accepted; the finding is new again when anyone else joins in. */
  readonly parties: readonly string[];
}

export interface Baseline {
  readonly findings: readonly BaselineEntry[];
}

/** A baseline that accepts these findings, sorted so that the file changes only where the findings do. */
export function baselineOf(findings: readonly Finding[]): Baseline {
  const entries = findings.map(({ rule, subject, parties }) => ({ rule, subject, parties }));
  entries.sort((a, b) => (a.rule === b.rule ? byCodeUnit(a.subject, b.subject) : byCodeUnit(a.rule, b.rule)));
  return { findings: entries };
}

export function formatBaseline(baseline: Baseline): string {
  return `${JSON.stringify({ rigproofBaseline: 1, findings: baseline.findings }, undefined, 2)}\n`;
}

export interface BaselineOutcome {
  readonly fresh: readonly Finding[];
  readonly known: readonly Finding[];
  /** Entries no finding matches any more. */
  readonly stale: readonly BaselineEntry[];
}

/** Splits findings into new and accepted ones. Entries of rules that did not run are not called stale. */
export function applyBaseline(
  findings: readonly Finding[],
  baseline: Baseline,
  ran: ReadonlySet<string>,
): BaselineOutcome {
  const entries = new Map(baseline.findings.map((entry) => [findingKey(entry), entry]));
  const matched = new Set<string>();
  const fresh: Finding[] = [];
  const known: Finding[] = [];
  for (const finding of findings) {
    const key = findingKey(finding);
    const entry = entries.get(key);
    if (entry !== undefined) matched.add(key);
    if (entry !== undefined && covers(entry.parties, finding.parties)) known.push(finding);
    else fresh.push(finding);
  }
  const stale = [...entries]
    .filter(([key, entry]) => !matched.has(key) && ran.has(entry.rule))
    .map(([, entry]) => entry);
  return { fresh, known, stale };
}

/** Whether nobody is involved who was not before. */
export function covers(accepted: readonly string[], parties: readonly string[]): boolean {
  const names = new Set(accepted);
  return parties.every((party) => names.has(party));
}
