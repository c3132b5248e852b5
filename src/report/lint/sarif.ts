/** The report for code review and result viewers: a log of the OASIS standard SARIF 2.1.0. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { formatCitation } from '../../lint/citation.js';
import { findingText, type Finding } from '../../lint/finding.js';
import type { LintResult, RuleInfo } from '../../lint/result.js';
import { escapeText } from '../../page/escape.js';
import { leavesOpen } from '../../lint/unjudged.js';
import type { Location } from '../../source/document.js';
import { CAUTION } from '../caution.js';
import { byEffect } from '../../lint/rank.js';
import { effectJson } from './effect-words.js';
import { assumptionWords } from './assumptions.js';
import { fixesOf, type FixOf } from './sarif-fixes.js';
import { notJudgedWords } from './not-judged.js';
import { openWords } from './open-words.js';
import { ratelessJson } from './rateless.js';
import { receiverTotals } from './receivers.js';
import type {
  Message,
  Notification,
  ReportingDescriptor,
  SarifLocation,
  SarifLog,
  SarifResult,
  Suppression,
} from './sarif-types.js';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** Results are the findings, then the waived ones (suppressed), then those the baseline knows (unchanged). */
export function lintSarif(result: LintResult, version: string): SarifLog {
  const index = indexOf(result);
  return {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'rigproof', version, rules: result.rulesRun.map(ruleOf) } },
        invocations: [
          {
            executionSuccessful: result.problems.length === 0 && result.crashed.length === 0,
            toolExecutionNotifications: notificationsOf(result, index),
          },
        ],
        artifacts: [...index.files].map(([name, position]) => ({ location: { uri: toUri(name), index: position } })),
        results: resultsOf(result, index),
        columnKind: 'utf16CodeUnits',
        properties: {
          caution: CAUTION,
          judgedWhole: !leavesOpen(result),
          ...(result.receivers === undefined ? {} : { receivers: receiverTotals(result.receivers) }),
          withoutRate: ratelessJson(result.rateless),
          notJudged: result.notJudged.map(notJudgedWords).map(({ area, missing }) => `${area}: ${missing}`),
          assumptions: assumptionWords(result.assumptions),
        },
      },
    ],
  };
}

/** Positions of files among the artifacts, and of rules among the rules of the driver. */
interface Index {
  readonly files: ReadonlyMap<string, number>;
  readonly rules: ReadonlyMap<string, number>;
}

function indexOf(result: LintResult): Index {
  const findings = [...result.findings, ...result.waived.map(({ finding }) => finding), ...result.known];
  const files = new Set([
    ...result.files.map(({ name }) => name),
    ...findings.flatMap(({ at, others }) => [at.file, ...others.map(({ file }) => file)]),
    ...result.problems.map(({ at }) => at.file),
  ]);
  return {
    files: new Map([...files].map((name, position) => [name, position])),
    rules: new Map(result.rulesRun.map(({ id }, position) => [id, position])),
  };
}

function ruleOf({ id, summary, severity, sources }: RuleInfo): ReportingDescriptor {
  const cited = sources.map((source) => escapeText(formatCitation(source)));
  return {
    id,
    shortDescription: { text: escapeText(summary) },
    help: {
      text: `${escapeText(summary)} Sources: ${cited.join('; ')}.`,
      markdown: [escapeText(summary), '', '**Sources**', '', ...cited.map((source) => `- ${source}`)].join('\n'),
    },
    defaultConfiguration: { level: severity },
    properties: { sources: cited },
  };
}

function resultsOf(result: LintResult, index: Index): readonly SarifResult[] {
  const all = [...result.findings, ...result.waived.map(({ finding }) => finding), ...result.known];
  const fixOf = fixesOf(all, (name) => ({ uri: toUri(name), index: index.files.get(name) ?? -1 }));
  const resultOf = (finding: Finding, suppressions: readonly Suppression[]): SarifResult =>
    sarifResult(finding, suppressions, index, fixOf);
  const order = result.findings.toSorted(byEffect);
  const places = new Map(order.map((finding, place) => [finding, place]));
  /** From 100 for the worst, down in equal steps (§3.27.25). */
  const rankOf = (finding: Finding): number => 100 - (100 * (places.get(finding) ?? 0)) / order.length;
  const compared = (state: 'new' | 'unchanged') => (result.baselineUsed ? { baselineState: state } : {});
  return [
    ...result.findings.map((finding) => ({
      ...resultOf(finding, []),
      ...compared('new'),
      rank: rankOf(finding),
    })),
    ...result.waived.map(({ finding, reason, until }) => {
      const justification = until === undefined ? reason : `${reason} (until ${until})`;
      const accepted: Suppression = { kind: 'external', status: 'accepted', justification: escapeText(justification) };
      return { ...resultOf(finding, [accepted]), ...compared('new') };
    }),
    ...result.known.map((finding) => ({ ...resultOf(finding, []), ...compared('unchanged') })),
  ];
}

function sarifResult(finding: Finding, suppressions: readonly Suppression[], index: Index, fixOf: FixOf): SarifResult {
  const fix = fixOf(finding);
  const { rule, subject, touch } = finding;
  const text = findingText(finding);
  return {
    ruleId: rule,
    ruleIndex: index.rules.get(rule) ?? -1,
    level: finding.severity,
    message: messageOf(`${text.what} On air: ${text.onAir} Do: ${text.fix}`),
    locations: [
      {
        ...labelledOf(finding.at, text.at, index),
        logicalLocations: [{ name: escapeText(touch.name), kind: touch.kind }],
      },
    ],
    relatedLocations: finding.others.map((other, position) => ({
      id: position + 1,
      ...labelledOf(other, text.others[position] ?? other.label, index),
    })),
    partialFingerprints: { 'rigproofSubject/v1': fingerprintOf(rule, subject) },
    suppressions,
    ...(fix === undefined ? {} : { fixes: [fix] }),
    properties: {
      subject,
      parties: finding.parties,
      confidence: finding.confidence,
      effect: effectJson(finding.effect),
    },
  };
}

function fingerprintOf(rule: string, subject: string): string {
  return bytesToHex(sha256(utf8ToBytes(JSON.stringify([rule, subject]))));
}

function labelledOf(location: Location, label: string, index: Index): SarifLocation {
  return { ...locationOf(location, index), message: messageOf(label) };
}

/** SARIF has no place for how a file without lines calls one, but for properties. */
function locationOf({ file, line, column, endLine, endColumn, where }: Location, index: Index): SarifLocation {
  return {
    physicalLocation: {
      artifactLocation: { uri: toUri(file), index: index.files.get(file) ?? -1 },
      region: { startLine: line, startColumn: column, endLine, endColumn },
    },
    ...(where === undefined ? {} : { properties: { where: escapeText(where) } }),
  };
}

/** What could not be read, which rules stopped, and, as warnings, what was not judged (§3.20.21). */
function notificationsOf(result: LintResult, index: Index): readonly Notification[] {
  const { crashed, problems } = result;
  return [
    ...problems.map(({ at, what, instead }): Notification => {
      const message = messageOf(`${what}. To do: ${instead}`);
      return { level: 'error', message, locations: [locationOf(at, index)] };
    }),
    ...crashed.map(({ rule, message }): Notification => {
      const position = index.rules.get(rule);
      return {
        level: 'error',
        message: messageOf(`The rule ${rule} stopped and reports nothing: ${message}`),
        associatedRule: position === undefined ? { id: rule } : { id: rule, index: position },
      };
    }),
    ...openWords(result).map((text): Notification => ({ level: 'warning', message: messageOf(text) })),
  ];
}

/** Braces are doubled (§3.11.5); `](` would make an embedded link of text from a plan (§3.11.6). */
function messageOf(text: string): Message {
  return { text: escapeText(text).replaceAll(/[{}]/g, '$&$&').replaceAll('](', '] (') };
}

/** Relative as given, absolute paths as `file:` (RFC 8089); forward slashes, percent-encoded (RFC 3986 §2.1). */
function toUri(name: string): string {
  const path = name.replaceAll('\\', '/').replace(/\p{Cs}/gu, '\ufffd');
  const drive = /^[A-Za-z]:(?=\/)/.exec(path)?.[0] ?? '';
  const encoded = path.slice(drive.length).split('/').map(encodeURIComponent).join('/');
  if (drive !== '') return `file:///${drive}${encoded}`;
  return path.startsWith('/') ? `file://${encoded}` : encoded;
}
