/** Whether a result speaks for all of a plan. */
import type { LintResult } from './result.js';

/**
 * True where a leg was not followed, nothing explains why one is not delivered, a load is a lower bound, or is held against no rate, an
 * address is missing, or a rule waits for a fact.
 */
export function leavesOpen({
  receivers,
  rateless,
  unaddressed,
  notJudged,
  problems,
  crashed,
  rulesRun,
}: LintResult): boolean {
  return (
    receivers === undefined ||
    receivers.legs === 0 ||
    receivers.notFollowed.length > 0 ||
    receivers.notDelivered.some(({ finding }) => finding === undefined) ||
    receivers.unrated + receivers.openEnded > 0 ||
    rateless.links.length + rateless.ports.length + unaddressed.length > 0 ||
    notJudged.length + problems.length + crashed.length > 0 ||
    rulesRun.length === 0
  );
}
