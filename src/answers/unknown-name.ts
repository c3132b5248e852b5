import { nearest } from '../collections/nearest.js';

/** A name that was asked about and that nothing in the plan has. */
export interface UnknownName {
  readonly unknown: string;
  /** The nearest name there is, where one is near enough to be meant. */
  readonly near: string | undefined;
}

export function unknownName(unknown: string, names: Iterable<string>): UnknownName {
  return { unknown, near: nearest(unknown, names) };
}
