/** The parts of a SARIF 2.1.0 log that rigproof writes, named as the standard names them. */
import type { Severity } from '../../lint/finding.js';

/** §3.11 message object. */
export interface Message {
  readonly text: string;
}

/** §3.28 location object. */
export interface SarifLocation {
  readonly id?: number;
  readonly physicalLocation: {
    readonly artifactLocation: ArtifactLocation;
    readonly region: {
      readonly startLine: number;
      readonly startColumn: number;
      readonly endLine: number;
      readonly endColumn: number;
    };
  };
  readonly properties?: { readonly where: string };
  readonly logicalLocations?: readonly { readonly name: string; readonly kind: string }[];
  readonly message?: Message;
}

/** §3.4 artifactLocation object. */
export interface ArtifactLocation {
  readonly uri: string;
  readonly index: number;
}

/** §3.49 reportingDescriptor object. */
export interface ReportingDescriptor {
  readonly id: string;
  readonly shortDescription: Message;
  readonly help: { readonly text: string; readonly markdown: string };
  readonly defaultConfiguration: { readonly level: Severity };
  readonly properties: { readonly sources: readonly string[] };
}

/** §3.57 replacement object. */
export interface Replacement {
  readonly deletedRegion: SarifLocation['physicalLocation']['region'];
  /** Absent where the characters are only taken out. */
  readonly insertedContent?: { readonly text: string };
}

/** §3.55 fix object, with its artifactChange objects (§3.56). */
export interface Fix {
  readonly description: Message;
  readonly artifactChanges: readonly {
    readonly artifactLocation: ArtifactLocation;
    readonly replacements: readonly Replacement[];
  }[];
}

/** §3.27 result object. */
export interface SarifResult {
  readonly ruleId: string;
  readonly ruleIndex: number;
  readonly level: Severity;
  readonly message: Message;
  readonly locations: readonly SarifLocation[];
  readonly relatedLocations: readonly SarifLocation[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
  /** On every result or on none (§3.27.23): an empty list says that the result is not suppressed. */
  readonly suppressions: readonly Suppression[];
  readonly fixes?: readonly Fix[];
  /** On every result or on none (§3.27.24). */
  readonly baselineState?: 'new' | 'unchanged';
  /** How much it matters, 100 the most (§3.27.25); on results that are neither suppressed nor unchanged. */
  readonly rank?: number;
  readonly properties: Readonly<Record<string, unknown>>;
}

/** §3.35 suppression object. */
export interface Suppression {
  readonly kind: 'external';
  readonly status: 'accepted';
  readonly justification: string;
}

/** §3.58 notification object. */
export interface Notification {
  readonly level: 'error' | 'warning';
  readonly message: Message;
  readonly locations?: readonly SarifLocation[];
  readonly associatedRule?: { readonly id: string; readonly index?: number };
}

/** §3.13 sarifLog object with its one run (§3.14). */
export interface SarifLog {
  readonly $schema: string;
  readonly version: '2.1.0';
  readonly runs: readonly [
    {
      readonly tool: {
        readonly driver: {
          readonly name: string;
          readonly version: string;
          readonly rules: readonly ReportingDescriptor[];
        };
      };
      readonly invocations: readonly [
        {
          readonly executionSuccessful: boolean;
          readonly toolExecutionNotifications: readonly Notification[];
        },
      ];
      readonly artifacts: readonly { readonly location: ArtifactLocation }[];
      readonly results: readonly SarifResult[];
      readonly columnKind: 'utf16CodeUnits';
      readonly properties: Readonly<Record<string, unknown>>;
    },
  ];
}
