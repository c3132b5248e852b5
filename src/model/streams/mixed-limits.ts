/** Receivers that expect smaller datagrams than the stream they take is sent in. */
import { groupBy } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import type { Format, Plan, Receiver } from '../../plan/types.js';
import { isExtended, udpLimitOf } from './datagrams.js';

/** Receivers that are set to one format and take streams of another, larger one. */
export interface MixedLimits {
  readonly sent: Format;
  readonly expected: Format;
  readonly receivers: NonEmpty<Receiver>;
}

/**
 * Receivers set to a format of the same coding without the sender's size, by both formats (ST 2110-10 §6.4, §8.6).
 * Silent where the coding differs: then everything does.
 */
export function mixedLimits({ receivers }: Plan): readonly MixedLimits[] {
  const mixed = receivers.filter(({ takes, format: expected }) => {
    const sent = takes?.format;
    if (sent === undefined || expected === undefined || sent === expected || !isExtended(sent)) return false;
    if (udpLimitOf(expected) >= udpLimitOf(sent)) return false;
    return expected.coding === undefined || expected.coding === sent.coding;
  });
  return [...groupBy(mixed, ({ takes }) => takes?.format)].flatMap(([sent, ofSent]) =>
    [...groupBy(ofSent, ({ format }) => format)].map(([expected, list]) => ({ sent, expected, receivers: list })),
  );
}
