import { counted, listNames, type FindingWords } from '../../../src/doors/rule.js';
import { elementLabel, sharedLabel, type NamedElement, type SharedNote } from '../../../src/doors/redundancy.js';

export interface Facts {
  readonly element: NamedElement;
  /** Those it carries alone. */
  readonly streams: readonly string[];
  /** So many of them have a second leg that these receivers do not take. */
  readonly halves: number;
  /** How many receivers take them with one leg. */
  readonly receivers: number;
}

export type Note = SharedNote;

export function words({ element, streams, halves, receivers }: Facts): FindingWords<Note> {
  const name = elementLabel(element);
  const all = halves === streams.length;
  const second =
    halves === 0 ? '' : `; ${all ? 'all' : halves} of them have a second leg that these receivers do not take`;
  const advice = all ? 'let the receivers take the second leg' : 'give the streams that matter a second leg';
  return {
    what: `${name} alone carries ${streams.length} streams to ${counted(receivers, 'receiver')} that take one leg: ${listNames(streams, 4)}${second}`,
    onAir: `when ${name} fails these receivers are black until it is repaired; the second network does not help them`,
    fix: `${advice}, or know it and have a spare at hand; accept it with a waiver`,
    label: sharedLabel,
  };
}
