/** Numbers of the streams of a kind: the same for every device of the kind, held from an earlier plan. */
import type { KindDemand, StreamDemand } from './demand.js';
import type { Kept } from './kept.js';
import { ESSENCE_STREAMS, type PatternNeed, type StreamNumbering } from './pattern.js';

export type StreamNumbers = ReadonlyMap<StreamDemand, number>;

/** Undefined when a kind has more streams of an essence than have numbers. */
export function streamNumbers(
  kinds: readonly KindDemand[],
  numbering: StreamNumbering,
  kept: Kept | undefined,
): StreamNumbers | undefined {
  const numbers = new Map<StreamDemand, number>();
  for (const kind of kinds) {
    const sent = kind.streams.filter(({ legs }) => legs.some(({ network }) => network !== undefined));
    const earlier = kept?.streams.get(kind.raw.name);
    const taken = new Set<number>();
    for (const stream of sent) {
      const known = earlier?.get(stream.raw.name);
      if (known === undefined || taken.has(known)) continue;
      numbers.set(stream, known);
      taken.add(known);
    }
    // Numbers of streams that are gone are not given to others, so that they are there when the streams come back.
    for (const number of earlier?.values() ?? []) taken.add(number);
    const cursors = new Map<number, number>();
    for (const stream of sent) {
      if (numbers.has(stream)) continue;
      const { first, count } =
        numbering === 'essence' ? ESSENCE_STREAMS[stream.essence ?? 'data'] : { first: 1, count: Infinity };
      let next = cursors.get(first) ?? first;
      while (taken.has(next) || next % 256 === 0) next++;
      if (next >= first + count) return undefined;
      cursors.set(first, next + 1);
      numbers.set(stream, next);
      taken.add(next);
    }
  }
  return numbers;
}

/** What the streams of a request ask of a pattern. */
export function streamNeed(
  kinds: readonly KindDemand[],
  kept: Kept | undefined,
): Pick<PatternNeed, 'streams' | 'essences'> {
  const inOrder = streamNumbers(kinds, 'order', kept?.pattern?.streams === 'essence' ? undefined : kept);
  const byEssence = streamNumbers(kinds, 'essence', kept?.pattern?.streams === 'order' ? undefined : kept);
  let most = 1;
  for (const number of inOrder?.values() ?? []) most = Math.max(most, number);
  return { streams: most, essences: byEssence !== undefined };
}
