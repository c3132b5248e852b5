/** Inputs of devices: a receiver each, and one for all choices of an input that switches. */
import type { NonEmpty } from '../collections/non-empty.js';
import type { Receiver, ReceiverLeg, Selection } from './types.js';

/** The first choice of each input among them, in the same order; themselves where nothing switches. */
export function eachInput(receivers: NonEmpty<Receiver>): NonEmpty<Receiver>;
export function eachInput(receivers: readonly Receiver[]): readonly Receiver[];
export function eachInput(receivers: readonly Receiver[]): readonly Receiver[] {
  return eachOnce(receivers, (one) => one);
}

/** The same of what belongs to a receiver each. */
export function eachOnce<T>(items: NonEmpty<T>, receiverOf: (item: T) => Receiver): NonEmpty<T>;
export function eachOnce<T>(items: readonly T[], receiverOf: (item: T) => Receiver): readonly T[];
export function eachOnce<T>(items: readonly T[], receiverOf: (item: T) => Receiver): readonly T[] {
  if (items.every((item) => receiverOf(item).selection === undefined)) return items;
  const seen = new Set<Selection>();
  return items.filter((item) => {
    const { selection } = receiverOf(item);
    if (selection === undefined) return true;
    const isFirst = !seen.has(selection);
    seen.add(selection);
    return isFirst;
  });
}

/** Legs as their entries have them, one for all choices of an input. */
export function eachInputLeg(legs: NonEmpty<ReceiverLeg>): NonEmpty<ReceiverLeg> {
  const [first, ...rest] = legs;
  const seen = new Map<Selection, Set<number>>();
  const isNew = ({ receiver: { selection }, index }: ReceiverLeg): boolean => {
    if (selection === undefined) return true;
    const known = seen.get(selection) ?? new Set();
    seen.set(selection, known);
    return known.size < known.add(index).size;
  };
  isNew(first);
  return [first, ...rest.filter(isNew)];
}
