/** Spans as they are said. */
import type { Span } from '../../../values/span.js';

/** What messages take to travel is no wait. */
const INSTANT_S = 0.005;

/** To whole tenths of an announce interval, never narrower: more digits than the starts tried would bear out say nothing. */
export function outward({ fromS, toS }: Span, { logAnnounceInterval }: { readonly logAnnounceInterval: number }): Span {
  const tenths = 10 / 2 ** logAnnounceInterval;
  return { fromS: Math.floor(fromS * tenths) / tenths, toS: Math.ceil((toS - INSTANT_S) * tenths) / tenths };
}
