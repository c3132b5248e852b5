import { drawJson } from '../draw/json.js';
import { drawText } from '../draw/text.js';
import type { LintResult } from '../lint/result.js';
import { lintJson } from '../report/lint/json.js';
import { lintPage } from '../report/lint/page.js';
import { lintSarif } from '../report/lint/sarif.js';
import type { ReportFormat, ReportOptions } from './options.js';

/** Pure: the whole report as one text that ends in a newline. */
export type Reporter = (result: LintResult, options: ReportOptions) => string;

/** Every report of a lint there is, by name. */
export const REPORTERS: Readonly<Record<ReportFormat, Reporter>> = {
  text: (result, options) => drawText(lintPage(result, [], options), options),
  json: (result, { version }) => drawJson(lintJson(result, version)),
  sarif: (result, { version }) => drawJson(lintSarif(result, version)),
};
