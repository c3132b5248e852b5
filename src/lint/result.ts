import type { FactKey } from '../model/facts.js';
import type { Unaddressed } from '../model/hosts/index.js';
import type { Assumption, Rateless } from '../model/network/index.js';
import type { Problem } from '../source/problem.js';
import type { Citation } from './citation.js';
import type { Finding, FindingKey, Severity } from './finding.js';
import type { ReceiverVerdicts } from './receivers.js';

/** How much plan was looked at. */
export interface PlanCounts {
  readonly devices: number;
  readonly interfaces: number;
  readonly senders: number;
  /** Redundancy legs of all senders together. */
  readonly legs: number;
  readonly receivers: number;
  readonly switches: number;
  readonly links: number;
  readonly vlans: number;
}

/** What a report says of a rule. */
export interface RuleInfo {
  readonly id: string;
  readonly summary: string;
  /** Severity of its findings unless a finding states its own. */
  readonly severity: Severity;
  readonly sources: readonly Citation[];
}

/** A finding accepted on purpose by a waiver of the plan. */
export interface WaivedFinding {
  readonly finding: Finding;
  readonly reason: string;
  /** Last day the waiver holds, `YYYY-MM-DD`. */
  readonly until?: string | undefined;
}

/** Rules that stayed silent because the plan lacks one fact. */
export interface NotJudged {
  readonly fact: FactKey;
  /** Ids of the rules that wait for the fact. */
  readonly rules: readonly string[];
}

/** A rule that threw: its faults are not reported, those of the other rules are. */
export interface CrashedRule {
  readonly rule: string;
  readonly message: string;
}

/** Everything one run of the linter has to tell; the input of every reporter. */
export interface LintResult {
  /** Files that were read, as the user named them. */
  readonly files: readonly { readonly name: string; readonly format: string }[];
  readonly counts: PlanCounts;
  /** Names of all devices and switches. */
  readonly boxes: readonly string[];
  /** Rules that had the facts they need and ran. */
  readonly rulesRun: readonly RuleInfo[];
  /** Findings that are neither waived nor known, in the order of files and lines. */
  readonly findings: readonly Finding[];
  readonly waived: readonly WaivedFinding[];
  /** Whether findings were compared with a baseline. */
  readonly baselineUsed: boolean;
  /** Findings the baseline accepts. */
  readonly known: readonly Finding[];
  /** Baseline entries that no finding matches any more. */
  readonly staleBaseline: readonly FindingKey[];
  /** What became of every receiver leg; undefined where the plan was not judged, or a rule stopped. */
  readonly receivers: ReceiverVerdicts | undefined;
  /** Links and host ports that carry streams and have no rate, so that nobody can tell how full they are. */
  readonly rateless: Rateless;
  /** Interfaces that need an address and state none; empty where the plan states no addresses at all. */
  readonly unaddressed: readonly Unaddressed[];
  readonly notJudged: readonly NotJudged[];
  /** What was taken for granted because the plan does not say, where it mattered. */
  readonly assumptions: readonly Assumption[];
  readonly crashed: readonly CrashedRule[];
  /** Inputs that could not be read. */
  readonly problems: readonly Problem[];
}
