/** Every report of a plan there is, by what it is about and how it is drawn. */
import { reportFullnessJson, reportFullnessText, reportRefusalsJson, reportRefusalsText } from './allocation.js';
import { reportDiffJson, reportDiffText, reportSheetCsv, reportSheetJson, reportSheetText } from './change.js';
import { reportClocksJson, reportClocksText } from './clocks.js';
import { reportDelayJson, reportDelayText } from './delay.js';
import { reportFailuresCsv, reportFailuresJson, reportFailuresText } from './failures.js';
import { REPORTERS } from './lint.js';
import { reportMendDiff, reportMendJson, reportMendText } from './mend.js';
import { reportMergeJson, reportMergeText } from './merge.js';
import { reportTimelineJson, reportTimelineText } from './timeline.js';
import { reportTraceJson, reportTraceText } from './trace.js';

export const REPORTS = {
  lint: REPORTERS,
  trace: { text: reportTraceText, json: reportTraceJson },
  failures: { text: reportFailuresText, json: reportFailuresJson, csv: reportFailuresCsv },
  timeline: { text: reportTimelineText, json: reportTimelineJson },
  clocks: { text: reportClocksText, json: reportClocksJson },
  delay: { text: reportDelayText, json: reportDelayJson },
  diff: { text: reportDiffText, json: reportDiffJson },
  changeSheet: { text: reportSheetText, json: reportSheetJson, csv: reportSheetCsv },
  mend: { text: reportMendText, json: reportMendJson, diff: reportMendDiff },
  merge: { text: reportMergeText, json: reportMergeJson },
  fullness: { text: reportFullnessText, json: reportFullnessJson },
  refusals: { text: reportRefusalsText, json: reportRefusalsJson },
} as const;
