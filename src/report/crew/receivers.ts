/** Who takes each stream leg, as far as a cell holds names. */
import { append } from '../../collections/group-by.js';
import { byLabel } from '../../collections/order.js';
import type { Model } from '../../model/model.js';
import type { Leg } from '../../plan/types.js';
import { choiceLabel } from '../../words/labels.js';
import { joinWords } from '../../words/lists.js';
import { MOST_NAMES } from './cells.js';

/** Names for a cell, sorted, and how many there are in all. */
interface Names {
  readonly first: readonly string[];
  readonly total: number;
}

/** Gives the receivers of a leg in words. Receivers with one answer are named once, however many legs they hear. */
export function receiverNames({ plan, reception }: Model): (leg: Leg) => string {
  const labels = new Map<readonly Leg[], Set<string>>();
  const add = (heard: readonly Leg[], label: string): void => {
    const own = labels.get(heard);
    if (own === undefined) labels.set(heard, new Set([label]));
    else own.add(label);
  };
  for (const leg of plan.receiverLegs) add(reception.heard(leg), choiceLabel(leg.receiver));
  // One that does not say on which interfaces takes the stream as a whole.
  for (const receiver of plan.receivers)
    if (receiver.legs.length === 0 && receiver.takes) add(receiver.takes.legs, choiceLabel(receiver));
  const byLeg = new Map<Leg, [Names, ...Names[]]>();
  for (const [legs, own] of labels) {
    const names: Names = { first: byLabel([...own], (name) => name).slice(0, MOST_NAMES), total: own.size };
    for (const leg of legs) append(byLeg, leg, names);
  }
  return (leg) => words(byLeg.get(leg) ?? []);
}

function words(lists: readonly Names[]): string {
  const names = byLabel([...new Set(lists.flatMap(({ first }) => first))], (name) => name).slice(0, MOST_NAMES);
  const left = lists.reduce((sum, { total }) => sum + total, 0) - names.length;
  if (left > 0 && names.length === MOST_NAMES) return `${names.join(', ')} and ${left} more`;
  return joinWords(names, 'and');
}
