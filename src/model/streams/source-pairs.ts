/** Sources of the two legs of a stream, held against the map the conventions promise between them. */
import type { Address } from '../../values/address.js';
import { append } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Kind, Leg, Plan, Sender } from '../../plan/types.js';
import { imageOf, type LegPair, preimageOf, type WrongEntry, wrongEntries } from '../groups/index.js';
import { kindThatWrites } from '../written/index.js';

export interface BrokenPair {
  readonly sender: Sender;
  readonly one: Leg;
  readonly two: Leg;
  readonly first: Address;
  readonly second: Address;
  /** What the conventions derive from the first address; undefined when the map has no place for it. */
  readonly wanted: Address | undefined;
  /** What the second address is derived from. */
  readonly wantedFirst: Address | undefined;
}

/** The sources of the two legs, where they break the conventions' map. */
export function brokenPair(sender: Sender): BrokenPair | undefined {
  const map = sender.rig.conventions.sourceMap;
  if (map.length === 0) return undefined;
  const [one, two] = sender.legs;
  const first = one?.source;
  const second = two?.source;
  if (one === undefined || two === undefined || first === undefined || second === undefined) return undefined;
  const wanted = imageOf(first, map);
  if (wanted === second) return undefined;
  const wantedFirst = preimageOf(second, map);
  return wanted === undefined && wantedFirst === undefined
    ? undefined
    : { sender, one, two, first, second, wanted, wantedFirst };
}

/** Streams that every device of a kind sends from the wrong interfaces because the kind says so, by kind. */
export function kindsThatBreakPairs(
  plan: Plan,
  broken: readonly BrokenPair[],
): ReadonlyMap<Kind, NonEmpty<BrokenPair>> {
  const tallies = new Map<Kind, Map<string, BrokenPair[]>>();
  for (const pair of broken) {
    const { device, legs, name } = pair.sender;
    if (!legs.slice(0, 2).every((leg) => kindThatWrites(leg, device, 'interface') !== undefined)) continue;
    const kind = device?.kind;
    if (kind === undefined) continue;
    const byName = tallies.get(kind) ?? new Map<string, BrokenPair[]>();
    tallies.set(kind, byName);
    append(byName, name, pair);
  }
  if (tallies.size === 0) return new Map();
  for (const sender of plan.senders) {
    const byName = sender.device?.kind === undefined ? undefined : tallies.get(sender.device.kind);
    if (byName?.has(sender.name) === true && isPaired(sender)) byName.delete(sender.name);
  }
  return new Map(
    [...tallies].flatMap(([kind, byName]) => {
      const pairs = [...byName.values()].filter((list) => list.length > 1).flat();
      return isNonEmpty(pairs) ? [[kind, pairs] as const] : [];
    }),
  );
}

function isPaired(sender: Sender): boolean {
  const [one, two] = sender.legs;
  return one?.source !== undefined && two?.source !== undefined && brokenPair(sender) === undefined;
}

/** Entries of the map of sources that no stream keeps. */
export function wrongSourceEntries(
  { senders }: Plan,
  broken: readonly BrokenPair[],
): readonly WrongEntry<BrokenPair>[] {
  return wrongEntries(
    broken,
    ({ one, two }) => sourcesOf(one, two),
    () => senders.map(({ legs: [one, two] }) => sourcesOf(one, two)),
  );
}

function sourcesOf(one: Leg | undefined, two: Leg | undefined): LegPair | undefined {
  if (one?.source === undefined || two?.source === undefined) return undefined;
  return { first: one.source, second: two.source, map: one.sender.rig.conventions.sourceMap };
}
