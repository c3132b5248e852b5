/** The order in which findings are read: by what they do to the show, then by severity. */
import { byCodeUnit } from '../collections/order.js';
import { type Effect, EFFECTS } from './effect.js';
import { CONFIDENCES, type Finding, SEVERITIES } from './finding.js';

/**
 * More receivers that get nothing first, so that no line stands above one that leaves more of them dark; then those in the way
 * of receivers that are dark already, those after which nobody can tell, more with something unfit for air, more that lose protection; then what was not followed, what hurts
 * later and what is wrong on paper only; of equals the worse, the surer, the one with more parties. The order that
 * findings come in is free.
 */
export function byEffect(a: Finding, b: Finding): number {
  return (
    EFFECTS.indexOf(a.effect.kind) - EFFECTS.indexOf(b.effect.kind) ||
    more(a, b, ({ dark }) => dark) ||
    more(a, b, ({ behind }) => behind) ||
    more(a, b, ({ doubtful }) => doubtful) ||
    more(a, b, ({ spoiled }) => spoiled) ||
    more(a, b, ({ weakened }) => weakened) ||
    SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) ||
    CONFIDENCES.indexOf(a.confidence) - CONFIDENCES.indexOf(b.confidence) ||
    b.parties.length - a.parties.length ||
    byCodeUnit(a.at.file, b.at.file) ||
    a.at.line - b.at.line ||
    a.at.column - b.at.column ||
    byCodeUnit(a.rule, b.rule) ||
    byCodeUnit(a.subject, b.subject)
  );
}

/** Whom nobody knows can't be counted. */
function more(a: Finding, b: Finding, of: (effect: Effect) => readonly unknown[] | undefined): number {
  return (of(b.effect)?.length ?? 0) - (of(a.effect)?.length ?? 0);
}
