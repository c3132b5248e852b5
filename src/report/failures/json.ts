/** The failures for programs: one document in the shape of `schemas/failures.schema.json`. */
import type { FailureRow, StreamHit } from '../../model/explain/index.js';
import { linkLabel } from '../../model/vlans/index.js';
import { blindWords } from '../blind.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';
import { harmless, rowsOf, type RankedRow } from './rows.js';
import { type FailuresResult } from '../../answers/failures.js';
import { unjudgedStreams, unjudgedWhat, unjudgedWrite } from './words.js';

/** Keys come in a fixed order; lists are whole. */
export function failuresJson(result: FailuresResult, version: string): object {
  const { table, problems } = result;
  return {
    format: 1,
    tool: toolJson(version),
    complete: problems.length === 0,
    judged: { streams: table?.streams ?? 0, receptions: table?.receptions ?? 0 },
    failures: rowsOf(result).map(rankedRow),
    harmless: harmless(result).map(({ kind, name }) => ({ kind, name })),
    withoutRate: {
      streamLegs: table?.uncounted.streams ?? 0,
      links: (table?.uncounted.links ?? []).map(linkLabel),
    },
    notTaken: (table?.untaken ?? []).map((sender) => sender.label),
    notJudged: [
      ...blindWords(result.blind).map((one) => ({ ...one, whole: [], inPart: [], receivers: [] })),
      ...(table?.unjudged ?? []).map((one) => ({
        what: unjudgedWhat(one.why),
        write: unjudgedWrite(one.why),
        ...unjudgedStreams(one),
        receivers: one.receivers.map((receiver) => receiver.label),
      })),
    ],
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function rankedRow({ rank, row }: RankedRow): unknown {
  return {
    rank,
    kind: row.element.kind,
    name: row.element.name,
    lost: row.lostEverywhere.map(hitJson),
    lostInPart: row.lostInPart.map(hitJson),
    fewerLegs: row.fewerLegs.map(hitJson),
    ownInputs: row.withIt.map(hitJson),
    lostLater: row.lostLater.map(hitJson),
    fewerLegsLater: row.fewerLater.map(hitJson),
    laterSeconds: row.laterS,
    vlansWithoutQuerier: row.queriersLost.map(({ vlan, withinS }) => ({
      vlan: vlan.name,
      membershipSeconds: withinS,
    })),
    overloads: overloadsJson(row),
  };
}

function hitJson({ sender, receivers }: StreamHit): unknown {
  return { stream: sender.label, receivers: receivers.map((receiver) => receiver.label) };
}

function overloadsJson({ overloads }: FailureRow): unknown {
  return overloads.map(({ links, loadBps, atLeast, rateBps }) => ({
    links: links.map(linkLabel),
    loadBps,
    atLeast,
    rateBps,
  }));
}
