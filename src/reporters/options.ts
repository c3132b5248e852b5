import type { TextOptions } from '../draw/text.js';

/** What a report needs to know besides the result. */
export interface ReportOptions extends TextOptions {
  /** Version of rigproof. */
  readonly version: string;
}

/** What a report for programs needs to know. */
export type ProgramOptions = Pick<ReportOptions, 'version'>;
