/** What happens when rigs meet, for programs: one document in the shape of `schemas/merge.schema.json`. */
import type { Finding } from '../../lint/finding.js';
import { leavesOpen } from '../../lint/unjudged.js';
import { rigsOf, sidesByFile } from '../../merge/judge.js';
import type { Meeting } from '../../merge/meeting.js';
import type { MergeResult, Repaired } from '../../merge/merge.js';
import { CAUTION } from '../caution.js';
import { sheetJson } from '../change/sheet-json.js';
import { problemJson, toolJson } from '../common-json.js';
import { findingJson } from '../lint/json.js';

/** Keys come in a fixed order and lists in the order of the result. */
export function mergeJson(result: MergeResult, version: string): object {
  const { sides, joining, supposed, joined, own, meeting, repaired } = result;
  const sideOf = sidesByFile(sides);
  const finding = (one: Finding): unknown => ({ ...findingJson(one), rigs: rigsOf(one, sideOf) });
  const problems = [...result.problems, ...(joined?.problems ?? []), ...(repaired?.repair.problems ?? [])];
  return {
    rigproofMerge: 1,
    tool: toolJson(version),
    complete: joined !== undefined && problems.length === 0 && joined.crashed.length === 0,
    rigs: sides.map(({ name, documents }) => ({ name, files: documents.map((document) => document.name) })),
    joinedBy: supposed.length > 0 ? [] : joining.map((document) => document.name),
    supposed,
    findings: (joined?.findings ?? []).map(finding),
    own: own.map(finding),
    ...(meeting === undefined ? {} : { meeting: meetingJson(meeting) }),
    ...(repaired === undefined ? {} : { repair: repairJson(repaired, finding) }),
    judgedWhole: joined !== undefined && !leavesOpen(joined),
    crashed: (joined?.crashed ?? []).map(({ rule, message }) => ({ rule, message })),
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function meetingJson({ clocks, timeApart, queriers, ranges }: Meeting): unknown {
  return {
    clocks: clocks.map(({ domain, leaders, step }) => ({ domain, leaders, step })),
    timeApart: timeApart.map(({ rig, domains }) => ({ rig, domains })),
    queriers: queriers.map(({ where, winner, silent }) => ({ where, winner, silent })),
    ranges: ranges.map(({ range, rigs }) => ({ range, rigs })),
  };
}

function repairJson(
  { repair, left, fresh, meeting, comparison }: Repaired,
  finding: (one: Finding) => unknown,
): unknown {
  return {
    settingsOf: repair.counts,
    touched: repair.touched,
    atLeast: repair.atLeast,
    noRoom: repair.stuck,
    withheld: repair.withheld,
    left: left.map(finding),
    fresh: fresh.map(finding),
    meeting: meetingJson(meeting),
    sheet: sheetJson(comparison, repair.edits),
  };
}
