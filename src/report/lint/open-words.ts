/** All that keeps a plan from being judged whole, one sentence each, for programs that know notifications only. */
import type { LintResult } from '../../lint/result.js';
import { plainText, prose, say, type Phrase } from '../../page/phrase.js';
import { counted } from '../../words/counts.js';
import { notJudgedWords } from './not-judged.js';
import { ratelessWords } from './rateless.js';
import { unaddressedWords } from './unaddressed.js';
import { notDeliveredWords, notFollowedWords, receiverCounts, openEndedWords, unratedWords } from './receivers.js';

/** Empty exactly where a result speaks for all of a plan, or where what could not be read or stopped says so itself. */
export function openWords(result: LintResult): readonly string[] {
  const { receivers, rateless, unaddressed, notJudged, rulesRun } = result;
  const unexplained = (receivers?.notDelivered ?? []).filter(({ finding }) => finding === undefined);
  const phrases: readonly Phrase[] = [
    ...(rulesRun.length === 0 ? [prose('No rule ran.')] : []),
    ...(receivers === undefined || receivers.legs === 0 ? [prose(`Receivers: ${receiverCounts(result)}`)] : []),
    ...(receivers === undefined ? [] : notFollowedWords(receivers).map((one) => say`Not followed: ${one}`)),
    ...notDeliveredWords(unexplained).map((one) => say`Not delivered: ${one}`),
    ...(receivers === undefined || receivers.unrated === 0 ? [] : [prose(unratedWords(receivers))]),
    ...(receivers === undefined || receivers.openEnded === 0 ? [] : [prose(openEndedWords(receivers))]),
    ...ratelessWords(rateless).map((one) => say`Without a rate: ${one}`),
    ...unaddressedWords(unaddressed).map((one) => say`Without an address: ${one}`),
    ...notJudged.map((one) => {
      const { area, missing, write } = notJudgedWords(one);
      return prose(`Not judged: no ${missing}: ${write} (${counted(one.rules.length, 'rule')}: ${area})`);
    }),
  ];
  return phrases.map(plainText);
}
