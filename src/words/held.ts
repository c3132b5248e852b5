/** Who holds which address, in words. */
import { listNames } from './lists.js';

/** An address and what the crew calls its holder. */
export interface HeldFact {
  readonly address: string;
  readonly holder: string;
}

/** `10.20.1.31 of cam-1 red and 10.20.1.32 of cam-2 red`. */
export function heldWords(held: readonly HeldFact[]): string {
  return listNames(held.map(({ address, holder }) => `${address} of ${holder}`));
}
