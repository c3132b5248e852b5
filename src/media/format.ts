import type { Coding } from './codings/index.js';
import type { EssenceFacts } from './types.js';

/** What a format states, wherever it was stated. */
export interface FormatFacts extends EssenceFacts {
  readonly name: string | undefined;
  readonly coding: Coding | undefined;
}
