import type { TextOptions } from '../draw/text.js';
import type { Shown } from '../report/lint/page.js';

/** Names under which a report of a lint can be asked for. */
export const LINT_FORMATS = ['text', 'json', 'sarif'] as const;
export type ReportFormat = (typeof LINT_FORMATS)[number];

/** For what is short, and read by programs too: each entry stays on its line. */
export const UNWRAPPED: TextOptions = { width: Infinity, colour: false };

/** What a report needs to know besides the result. */
export interface ReportOptions extends TextOptions, Shown {
  /** Version of rigproof. */
  readonly version: string;
}

/** What a report for programs needs to know. */
export type ProgramOptions = Pick<ReportOptions, 'version'>;
