/** Blocks of groups for the networks that send, no two with a common multicast MAC, and the pattern inside them. */
import type { Practice } from '../plan/types.js';
import { rangeOf } from '../values/address.js';
import { LOW_23, low23, type Clear } from './clear.js';
import { isSecond, type Demand, type NetworkDemand } from './demand.js';
import { blockOf, sizeOf, type Block, type Kept } from './kept.js';
import { largest, patternsFor, widthOf, type Pattern, type PatternNeed } from './pattern.js';
import { firstClear, rangeSet, type NumberRange } from './ranges.js';
import { refused, type Refused, type RequestPath } from './refusal.js';
import { outgrownGroups, shortOfGroups, type NoRoom } from './short-groups.js';
import { rangeOfBlock } from './subnets.js';

export interface GroupBlocks {
  readonly pattern: Pattern;
  readonly blocks: ReadonlyMap<NetworkDemand, Block>;
}

export interface GroupContext {
  readonly demand: Demand;
  readonly clear: Clear;
  readonly kept: Kept | undefined;
  readonly practice: Practice;
  readonly need: PatternNeed;
  /** Fixed groups, by network: its block has to hold them. */
  readonly anchors: ReadonlyMap<NetworkDemand, readonly { readonly group: number; readonly at: RequestPath }[]>;
}

/** The widest a block may be: two legs fit side by side into what has multicast MACs of its own (RFC 1112 §6.4). */
const MOST_BITS = 22;

/**
 * Where groups are picked from, in this order: the Organization Local Scope, then what RFC 2365 §6.2.1 keeps for its
 * growth, then the source-specific block without its reserved first part (RFC 4607 §4.3).
 */
const POOLS: readonly NumberRange[] = [
  range('239.192.0.0', '239.195.255.255'),
  range('239.128.0.0', '239.191.255.255'),
  range('239.0.0.0', '239.127.255.255'),
  range('239.196.0.0', '239.251.255.255'),
  range('232.1.0.0', '232.127.255.255'),
  range('232.128.0.0', '232.255.255.255'),
];

/** Networks on which the request sends something to groups. */
export function sendingNetworks({ networks, lines }: Demand): readonly NetworkDemand[] {
  const sending = new Set(
    [...new Set(lines.map(({ kind }) => kind))].flatMap(({ streams }) =>
      streams.flatMap(({ legs }) => legs.flatMap(({ network }) => network ?? [])),
    ),
  );
  return networks.filter((network) => sending.has(network));
}

/** The pattern and the blocks, or what they lack. */
export function planGroups(context: GroupContext): GroupBlocks | Refused {
  const { demand, need, kept } = context;
  const { request } = demand;
  const networks = sendingNetworks(demand);
  for (const { raw, index } of demand.networks) {
    const block = blockOf(raw.groups);
    if (raw.groups !== undefined && (block === undefined || block.first < 0xe0000000))
      return refused({
        what: `\`${raw.groups}\` is no block of IPv4 groups`,
        at: ['networks', index, 'groups'],
        changes: [{ path: ['networks', index, 'groups'], value: undefined, words: 'leave it out, one is picked then' }],
      });
  }
  const moves = new Set(request.moves ?? []);
  const stays = networks.length > 0 && networks.every(({ raw }) => !moves.has(raw.name));
  const earlier = stays ? kept?.pattern : undefined;
  if (earlier !== undefined && !holds(earlier, need, demand)) {
    return refused(outgrownGroups(networks, need, earlier, demand));
  }
  const room = Math.min(
    MOST_BITS,
    ...networks.map((network) => 32 - (blockOf(network.raw.groups)?.length ?? 32 - MOST_BITS)),
  );
  const stated = request.pattern?.groups;
  const wanted: readonly Pattern[] =
    earlier !== undefined
      ? [earlier]
      : stated !== undefined
        ? [{ fields: stated, streams: request.pattern?.streams ?? 'order' }]
        : patternsFor(need, room).filter(({ streams }) => (request.pattern?.streams ?? streams) === streams);
  let noRoom: NoRoom | undefined;
  for (const pattern of wanted) {
    if (!holds(pattern, need, demand) || widthOf(pattern) > room) continue;
    const blocks = carveAll(pattern, networks, earlier === undefined ? undefined : kept, context);
    if (!('network' in blocks)) return { pattern, blocks };
    noRoom = blocks;
  }
  return networks.length === 0
    ? { pattern: { fields: [], streams: 'order' }, blocks: new Map() }
    : refused(shortOfGroups({ networks, room, need, noRoom }, demand));
}

function holds(pattern: Pattern, { units, streams, essences }: PatternNeed, { request }: Demand): boolean {
  if (pattern.streams === 'essence' && (!essences || largest(pattern, 'stream') < 255)) return false;
  if (new Set(pattern.fields.map(({ field }) => field)).size < pattern.fields.length) return false;
  const area = pattern.fields.some(({ field }) => field === 'area');
  return (
    largest(pattern, 'unit') >= units &&
    (pattern.streams === 'essence' || largest(pattern, 'stream') >= streams) &&
    (!area || largest(pattern, 'area') >= (request.areas ?? []).length)
  );
}

function carveAll(
  pattern: Pattern,
  networks: readonly NetworkDemand[],
  kept: Kept | undefined,
  { demand, clear, practice, anchors }: GroupContext,
): ReadonlyMap<NetworkDemand, Block> | NoRoom {
  const length = 32 - widthOf(pattern);
  const blocks = new Map<NetworkDemand, Block>();
  const own: NumberRange[] = [];
  const take = (network: NetworkDemand, block: Block): void => {
    blocks.set(network, block);
    own.push(...low23(rangeOfBlock(block)));
  };
  for (const network of networks) {
    const block = kept?.groupBlocks.get(network.raw.name);
    if (block !== undefined && block.length === length) take(network, block);
  }
  const order = [...networks.filter((one) => !isSecond(one)), ...networks.filter(isSecond)];
  for (const network of order.toSorted((a, b) => pairIndex(a) - pairIndex(b))) {
    if (blocks.has(network)) continue;
    const anchor = anchors.get(network)?.[0]?.group;
    const pool = blockOf(network.raw.groups);
    const others = demand.networks.flatMap((other) => {
      const block = other === network || blocks.has(other) ? undefined : blockOf(other.raw.groups);
      return block === undefined || block.length < length || pool !== undefined ? [] : low23(rangeOfBlock(block));
    });
    const pickOf = (size: number, inPairs: boolean): number | undefined =>
      pick(
        pool,
        size,
        rangeSet([...own, ...others]),
        clear,
        practice,
        inPairs,
        network.twin === undefined ? undefined : blocks.get(network.twin),
      );
    const noRoom = (): NoRoom => {
      let smaller = length + 1;
      while (smaller <= 32 && pickOf(smaller, false) === undefined) smaller++;
      return { network, needed: sizeOf(length), clear: smaller > 32 ? 0 : sizeOf(smaller) };
    };
    const first =
      anchor !== undefined
        ? Math.floor(anchor / sizeOf(length)) * sizeOf(length)
        : pickOf(length, pool === undefined && leadsOpenPair(network, blocks, networks));
    if (first === undefined) return noRoom();
    const [low] = low23({ first, last: first + sizeOf(length) - 1 });
    if (low === undefined || rangeSet(own).meets(low.first, low.last) !== undefined) return noRoom();
    take(network, { first, length });
  }
  return blocks;
}

/** Twins one after the other, in the order of the first. */
function pairIndex(network: NetworkDemand): number {
  return isSecond(network) ? (network.twin?.index ?? 0) + 0.5 : network.index;
}

/** Whether the twin gets its block next, which then should follow on this one. */
function leadsOpenPair(
  { twin }: NetworkDemand,
  blocks: ReadonlyMap<NetworkDemand, Block>,
  networks: readonly NetworkDemand[],
): boolean {
  return twin !== undefined && networks.includes(twin) && !blocks.has(twin) && twin.raw.groups === undefined;
}

/** A block that meets nobody's groups; in a stated pool, one that meets only single ones, which are passed over then. */
function pick(
  pool: Block | undefined,
  length: number,
  own: ReturnType<typeof rangeSet>,
  clear: Clear,
  practice: Practice,
  inPairs: boolean,
  twin: Block | undefined,
): number | undefined {
  const next = twin === undefined ? [] : [rangeOfBlock({ ...twin, first: twin.first + sizeOf(length) })];
  const pools = pool === undefined ? [...next, ...POOLS].flatMap((one) => within(one, practice)) : [rangeOfBlock(pool)];
  const size = sizeOf(length);
  for (const { strict, two } of [
    ...(inPairs ? [{ strict: true, two: true }] : []),
    { strict: true, two: false },
    ...(pool === undefined ? [] : [{ strict: false, two: false }]),
  ]) {
    for (const one of pools) {
      for (let base = Math.floor(one.first / LOW_23) * LOW_23; base <= one.last; base += LOW_23) {
        const last = Math.min(one.last, base + LOW_23 - 1);
        const part = { first: Math.max(one.first, base), last: two ? last - size : last };
        const first = firstClear(
          part,
          size,
          (two ? [0, size] : [0]).flatMap((shift) => [
            { set: own, shift: shift - base },
            ...(strict ? [{ set: clear.groups, shift: shift - base }] : []),
          ]),
        );
        if (first !== undefined) return first;
      }
    }
  }
  return undefined;
}

function within(pool: NumberRange, { groupRanges }: Practice): readonly NumberRange[] {
  return groupRanges.flatMap((prefix) => {
    const { first, last } = rangeOf(prefix);
    if (typeof first !== 'number' || typeof last !== 'number') return [];
    const part = { first: Math.max(first, pool.first), last: Math.min(last, pool.last) };
    return part.first <= part.last ? [part] : [];
  });
}

function range(first: string, last: string): NumberRange {
  const value = (text: string): number => text.split('.').reduce((sum, part) => sum * 256 + Number(part), 0);
  return { first: value(first), last: value(last) };
}
