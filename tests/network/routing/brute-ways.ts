/** Ways of streams the slow way, from the words of the standards alone; shares no code with the model. */

/** A router on a wire. */
export interface BruteFoot {
  readonly router: number;
  readonly wire: number;
  readonly cost: number;
  readonly priority: number;
  readonly address: number;
}

/** What each router tells its neighbours of its way to a wire: rounds of asking every neighbour, until nothing changes. */
export function bruteCosts(feet: readonly BruteFoot[], to: number): ReadonlyMap<number, number> {
  const told = new Map<number, number>();
  for (const foot of feet)
    if (foot.wire === to) told.set(foot.router, Math.min(foot.cost, told.get(foot.router) ?? Infinity));
  const fixed = new Set(told.keys());
  for (let changed = true; changed;) {
    changed = false;
    for (const mine of feet) {
      if (fixed.has(mine.router)) continue;
      for (const other of feet) {
        if (other.wire !== mine.wire || other.router === mine.router) continue;
        const cost = mine.cost + (told.get(other.router) ?? Infinity);
        if (cost < (told.get(mine.router) ?? Infinity)) {
          told.set(mine.router, cost);
          changed = true;
        }
      }
    }
  }
  return told;
}

/** The routers from the source's wire to another; undefined where there is no way. Equal ways: the lowest address. */
export function bruteWay(feet: readonly BruteFoot[], from: number, to: number): readonly number[] | undefined {
  const told = bruteCosts(feet, from);
  const serving = feet
    .filter((foot) => foot.wire === to)
    .sort((a, b) => b.priority - a.priority || b.address - a.address)[0];
  if (serving === undefined) return undefined;
  let list: number[] = [];
  for (let at = serving.router; ;) {
    const own = told.get(at);
    if (own === undefined) return undefined;
    if (feet.some((foot) => foot.router === at && foot.wire === from)) return [at, ...list];
    const asked = feet
      .filter((foot) => foot.router === at)
      .flatMap((foot) =>
        feet
          .filter((other) => other.wire === foot.wire && other.router !== at)
          .map((other) => ({ other, cost: foot.cost + (told.get(other.router) ?? Infinity) })),
      )
      .filter(({ cost }) => cost === own)
      .sort((a, b) => a.other.address - b.other.address)[0];
    if (asked === undefined) return undefined;
    // Over the receivers' own wire: who is asked there serves them.
    list = asked.other.wire === to ? [] : [at, ...list];
    at = asked.other.router;
  }
}
