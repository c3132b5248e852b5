/** The delays for programs: one document in the shape of `schemas/delay.schema.json`. */
import { basisOf, type Budget, type Chain, type DelayGap, type DelayItem } from '../../model/delay/index.js';
import { blindWords } from '../blind.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';
import { budgetsOf } from './budgets.js';
import { type DelayResult } from '../../answers/delay.js';
import { gapWords } from '../../words/delays.js';

/** Keys come in a fixed order; lists are whole. */
export function delayJson(result: DelayResult, version: string): object {
  const { delays, problems } = result;
  return {
    format: 1,
    tool: toolJson(version),
    complete: problems.length === 0,
    receptions: budgetsOf(result).map(budgetJson),
    lipSync: (delays?.lipSyncs ?? []).map(({ pair, picture, sound, leadNs, verdict }) => ({
      name: pair.name,
      at: pair.at?.name ?? '',
      soundLeadNs: leadNs,
      verdict,
      picture: chainJson(picture),
      sound: chainJson(sound),
    })),
    roundTrips: (delays?.roundTrips ?? []).map(({ trip, there, back, totalNs, verdict }) => ({
      name: trip.name,
      kind: trip.kind,
      totalNs,
      verdict,
      there: chainJson(there),
      back: chainJson(back),
    })),
    notJudged: blindWords(result.blind),
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function budgetJson({ sender, receiver, ...sums }: Budget): unknown {
  return { stream: sender.label, receiver: receiver.label, ...sumsJson(sums) };
}

function chainJson({ hops, ...sums }: Chain): unknown {
  return { streams: hops.map(({ sender }) => sender.label), ...sumsJson(sums) };
}

function sumsJson({ items, gaps, totalNs }: Pick<Budget, 'items' | 'gaps' | 'totalNs'>): object {
  return { totalNs, atLeast: gaps.length > 0, parts: items.map(itemJson), notKnown: gaps.map(gapJson) };
}

function itemJson({ part, ns, from, names }: DelayItem): unknown {
  return { part, ns, from, basis: basisOf(from), names };
}

function gapJson(gap: DelayGap): unknown {
  return { ...gapWords(gap), names: gap.names };
}
