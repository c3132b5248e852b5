import type { TextOptions } from '../draw/text.js';

/** Names under which a report of a lint can be asked for. */
export const LINT_FORMATS = ['text', 'json', 'sarif'] as const;
export type ReportFormat = (typeof LINT_FORMATS)[number];

/** What a report needs to know besides the result. */
export interface ReportOptions extends TextOptions {
  /** Version of rigproof. */
  readonly version: string;
}

/** What a report for programs needs to know. */
export type ProgramOptions = Pick<ReportOptions, 'version'>;
