/**
 * The heaviest set of items that takers with room for a few each can hold, every item by one taker that wants it.
 *
 * Such sets are the independent sets of a transversal matroid (J. Edmonds, D. R. Fulkerson, "Transversals and Matroid
 * Partition", J. Res. NBS 69B (1965) 147-153), so taking the heaviest item that still fits is exact; whether one fits is
 * a search for an augmenting path.
 */
export interface Wanted {
  readonly weight: number;
  /** Indices of the takers that want it. */
  readonly takers: readonly number[];
}

/** Indices of the items, the heaviest first; of equals the first. */
export function heaviest(items: readonly Wanted[], room: readonly number[]): readonly number[] {
  const order = items.map((_, index) => index).sort((a, b) => weightAt(items, b) - weightAt(items, a) || a - b);
  const held: number[][] = room.map(() => []);
  // A search that found no room closes all takers it came to: no later one finds any there.
  const closed = room.map(() => false);
  let left = room.reduce((sum, one) => sum + one, 0);
  const chosen: number[] = [];
  for (const item of order) {
    if (left === 0) break;
    if (!fits(item, items, held, room, closed)) continue;
    chosen.push(item);
    left--;
  }
  return chosen;
}

function weightAt(items: readonly Wanted[], index: number): number {
  return items[index]?.weight ?? 0;
}

/** Makes room for an item, moving others from taker to taker where that helps. */
function fits(
  item: number,
  items: readonly Wanted[],
  held: readonly number[][],
  room: readonly number[],
  closed: boolean[],
): boolean {
  const via = new Map<number, { readonly item: number; readonly from: number | undefined }>();
  const queue: number[] = [];
  const reach = (moved: number, from: number | undefined): void => {
    for (const taker of items[moved]?.takers ?? []) {
      if (closed[taker] === true || via.has(taker)) continue;
      via.set(taker, { item: moved, from });
      queue.push(taker);
    }
  };
  reach(item, undefined);
  for (const taker of queue) {
    if ((held[taker]?.length ?? 0) < (room[taker] ?? 0)) {
      for (let at: number | undefined = taker; at !== undefined;) {
        const step = via.get(at);
        if (step === undefined) break;
        held[at]?.push(step.item);
        const from = step.from === undefined ? undefined : held[step.from];
        from?.splice(from.indexOf(step.item), 1);
        at = step.from;
      }
      return true;
    }
    for (const other of held[taker] ?? []) reach(other, taker);
  }
  for (const taker of queue) closed[taker] = true;
  return false;
}
