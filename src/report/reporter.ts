import type { LintResult } from '../lint/result.js';

/** What a report needs to know besides the result. */
export interface ReportOptions {
  /** Version of rigproof. */
  readonly version: string;
  /** Columns a line of text may take. */
  readonly width: number;
  /** Whether text may carry SGR colour codes. Colour repeats what words say; it never adds to them. */
  readonly colour: boolean;
}

/** Pure: the whole report as one text that ends in a newline. */
export type Reporter = (result: LintResult, options: ReportOptions) => string;

/** What every report says, clean or not. */
export const CAUTION =
  'A clean result is a check on paper, not proof for air. ' +
  'Safety intercom and public address follow local codes and competent testing.';
