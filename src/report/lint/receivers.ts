/** What became of the receiver legs, in words and as data. */
import { groupBy } from '../../collections/group-by.js';
import type { LintResult } from '../../lint/result.js';
import type { NotDelivered, NotFollowed, ReceiverVerdicts } from '../../lint/receivers.js';
import type { Taker } from '../../model/verdicts/index.js';
import { escapeText } from '../../page/escape.js';
import { plainText, prose, say, sayNames, type Phrase } from '../../page/phrase.js';
import { agree, counted } from '../../words/counts.js';
import { receiverLegLabel } from '../../words/labels.js';
import { lackWords, unreachedWords } from '../verdict-words.js';

const MOST_NAMES = 3;

/** `711 legs delivered, 0 not delivered, 22 not followed`; without receivers, that nothing was followed. */
export function receiverCounts({ receivers, counts }: LintResult): string {
  if (receivers === undefined) return 'not followed: the plan was not judged whole.';
  if (receivers.legs === 0)
    return `nothing was followed: the plan lists no receivers${counts.switches === 0 ? ' and no switches' : ''}.`;
  const { delivered, notDelivered } = receivers;
  return `${counted(delivered, 'leg')} delivered, ${notDelivered.length} not delivered, ${notFollowedCount(receivers)} not followed.`;
}

export function notFollowedCount({ notFollowed }: ReceiverVerdicts): number {
  return notFollowed.reduce((sum, { takers }) => sum + takers.length, 0);
}

/** One entry a reason, whatever the number of legs it keeps. */
export function notDeliveredWords(list: readonly NotDelivered[]): readonly Phrase[] {
  const alike = groupBy(list, ({ denial, finding }) => JSON.stringify([denial, finding?.rule, finding?.subject]));
  return [...alike.values()].map((group) => {
    const [{ why, finding }] = group;
    const names = sayNames(
      group.map(({ receiverLeg }) => receiverLegLabel(receiverLeg)),
      MOST_NAMES,
    );
    const key = finding === undefined ? say` (no rule finds it)` : say` (${finding.rule})`;
    return say`${names}: ${unreachedWords(why)}${key}`;
  });
}

export function notFollowedWords({ notFollowed }: ReceiverVerdicts): readonly Phrase[] {
  return notFollowed.map(({ lacks, takers }) => {
    const { missing, write } = lackWords(lacks);
    const names = sayNames(takers.map(takerLabel), MOST_NAMES);
    return say`${counted(takers.length, 'leg')} (${names}): ${prose(`${missing}; ${write}`)}`;
  });
}

/** `4 stream legs have no known rate, so loads are at least what is said`. */
export function unratedWords({ unrated }: ReceiverVerdicts): string {
  return `${counted(unrated, 'stream leg')} ${agree(unrated, 'has', 'have')} no known rate: every load is at least what is said. Give senders a \`format\`, and mend those that a finding calls a slip`;
}

/** `1 stream leg to one address is not followed to its end: …`. */
export function openEndedWords({ openEnded }: ReceiverVerdicts): string {
  return `${counted(openEnded, 'stream leg')} to one address ${agree(openEnded, 'is', 'are')} not followed to the end: loads beyond are at least what is said; \`rigproof trace\` says why`;
}

function takerLabel({ receiver, receiverLeg }: Taker): string {
  return receiverLeg === undefined ? receiver.label : receiverLegLabel(receiverLeg);
}

/** Counts alone, for documents with no room for every leg. */
export function receiverTotals(receivers: ReceiverVerdicts): Readonly<Record<string, number>> {
  const { legs, delivered, notDelivered, unrated, openEnded } = receivers;
  return {
    legs,
    delivered,
    notDelivered: notDelivered.length,
    notFollowed: notFollowedCount(receivers),
    unratedLegs: unrated,
    openEndedLegs: openEnded,
  };
}

export function receiversJson(receivers: ReceiverVerdicts): object {
  return {
    legs: receivers.legs,
    delivered: receivers.delivered,
    notDelivered: receivers.notDelivered.map(notDeliveredJson),
    notFollowed: receivers.notFollowed.map(notFollowedJson),
    unratedLegs: receivers.unrated,
    openEndedLegs: receivers.openEnded,
  };
}

function notDeliveredJson({ receiverLeg, denial, why, finding }: NotDelivered): object {
  return {
    receiver: receiverLeg.receiver.label,
    leg: receiverLeg.index + 1,
    why: denial,
    text: escapeText(plainText(unreachedWords(why))),
    ...(finding === undefined ? {} : { finding: { rule: finding.rule, subject: finding.subject } }),
  };
}

function notFollowedJson({ lacks, takers }: NotFollowed): object {
  return {
    lacks,
    ...lackWords(lacks),
    legs: takers.map(({ receiver, receiverLeg }) => ({
      receiver: receiver.label,
      leg: receiverLeg === undefined ? null : receiverLeg.index + 1,
    })),
  };
}
