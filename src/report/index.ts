import { reportJson } from './json.js';
import type { Reporter } from './reporter.js';
import { reportSarif } from './sarif.js';
import { reportText } from './text.js';

export type { Reporter, ReportOptions } from './reporter.js';

/** Names under which a report can be asked for. */
export type ReportFormat = 'text' | 'json' | 'sarif';

/** Every report there is, by name. */
export const REPORTERS: Readonly<Record<ReportFormat, Reporter>> = {
  text: reportText,
  json: reportJson,
  sarif: reportSarif,
};
