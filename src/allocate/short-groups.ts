/** Why groups do not suffice: which block or field, what it has to hold, what it holds, and what to write instead. */
import { counted } from '../words/counts.js';
import { listNames } from '../words/lists.js';
import { growthPercent, type Demand, type NetworkDemand } from './demand.js';
import { blockOf } from './kept.js';
import { bitsFor, largest, type Field, type Pattern, type PatternNeed } from './pattern.js';
import type { Refusal, RequestChange, RequestPath, Shortage } from './refusal.js';
import { lessClear } from './short-addresses.js';
import { bothWider, cidr, widened } from './wider.js';

/** A network for which no block so large is clear. */
export interface NoRoom {
  readonly network: NetworkDemand;
  /** Groups in one piece, and how many the largest clear piece has. */
  readonly needed: number;
  readonly clear: number;
}

/** What groups have to hold and do not. */
export interface GroupShortage {
  readonly networks: readonly NetworkDemand[];
  /** Bits of the narrowest block. */
  readonly room: number;
  readonly need: PatternNeed;
  /** What no clear piece was found for, where the blocks are wide enough. */
  readonly noRoom: NoRoom | undefined;
}

/** Two legs side by side in what has multicast MACs of its own (RFC 1112 §6.4). */
const WIDEST = 22;
const MOST_CHANGES = 6;

export function shortOfGroups({ networks, room, need, noRoom }: GroupShortage, demand: Demand): Refusal {
  const { request } = demand;
  const least = bitsFor(need.units) + bitsFor(need.streams);
  const tight =
    noRoom?.network ??
    networks
      .filter(({ raw }) => raw.groups !== undefined)
      .toSorted((a, b) => (blockOf(b.raw.groups)?.length ?? 0) - (blockOf(a.raw.groups)?.length ?? 0))[0];
  const block = blockOf(tight?.raw.groups);
  const at: RequestPath =
    tight === undefined ? ['networks'] : ['networks', tight.index, ...(block === undefined ? [] : ['groups'])];
  const changes = changesFor(tight, least, demand);
  const fields = noRoom === undefined ? tooNarrow(need, demand) : undefined;
  if (fields !== undefined) return { ...fields, changes: [...fields.changes, ...changes] };
  const network = tight?.raw.name ?? 'each network';
  const wanted = `units up to ${need.units} with up to ${counted(need.streams, 'stream')} each`;
  const place = block === undefined ? '239.0.0.0/8 and 232.0.0.0/8, as far as the practice has them,' : cidr(block);
  if (noRoom !== undefined)
    return {
      what: `${wanted} need ${noRoom.needed} groups in one piece for network ${network}, and the largest clear piece of ${place} has ${noRoom.clear}`,
      at,
      short: { of: `groups of network ${network} in one piece`, needed: noRoom.needed, has: noRoom.clear },
      changes,
    };
  return {
    what: `${wanted} need ${2 ** least} groups on each network, and ${block === undefined ? 'a block' : `${cidr(block)} of network ${network}`} has ${2 ** room}`,
    at: request.pattern === undefined ? at : ['pattern'],
    short: { of: `groups of network ${network}`, needed: 2 ** least, has: 2 ** room },
    changes,
  };
}

function changesFor(tight: NetworkDemand | undefined, least: number, demand: Demand): readonly RequestChange[] {
  const { request } = demand;
  const changes: RequestChange[] = [];
  if (request.pattern !== undefined)
    changes.push({ path: ['pattern'], value: undefined, words: 'leave `pattern` out, so that one is picked' });
  const block = blockOf(tight?.raw.groups);
  if (tight !== undefined && block !== undefined) {
    const at: RequestPath = ['networks', tight.index, 'groups'];
    for (let bits = Math.max(least, 32 - block.length + 1); bits <= WIDEST && changes.length < MOST_CHANGES; bits++) {
      const text = widened(block, bits);
      changes.push({ path: at, value: text, words: `write \`groups: ${text}\`` });
      const other = tight.twin === undefined ? undefined : blockOf(tight.twin.raw.groups);
      if (tight.twin !== undefined && other !== undefined && 32 - other.length < bits)
        changes.push(bothWider(demand, tight, tight.twin, 'groups', text, widened(other, bits)));
    }
    changes.push({ path: at, value: undefined, words: 'leave `groups` out, so that a block is picked' });
  }
  if (growthPercent(request) > 0) changes.push({ path: ['growth'], value: 0, words: 'keep nothing free: `growth: 0`' });
  return [...changes, ...lessClear(request.keepClear?.groups, 'groups')];
}

/** Fields of a stated pattern that are too narrow for what they number. */
function tooNarrow(need: PatternNeed, { request }: Demand): Refusal | undefined {
  const fields = request.pattern?.groups;
  if (fields === undefined) return undefined;
  const wanted: Readonly<Record<Field['field'], number>> = {
    unit: need.units,
    stream: request.pattern?.streams === 'essence' ? 255 : need.streams,
    area: (request.areas ?? []).length,
  };
  const narrow = fields.filter(({ field, bits }) => 2 ** bits - 1 < wanted[field]);
  const [first] = narrow;
  if (first === undefined) return undefined;
  const wider = fields.map((one) => ({ ...one, bits: Math.max(one.bits, bitsFor(wanted[one.field])) }));
  const texts = narrow.map(
    ({ field, bits }) =>
      `${field} has ${counted(bits, 'bit')}, so it numbers to ${2 ** bits - 1}, and ${wanted[field]} is needed`,
  );
  return {
    what: `the pattern of groups is too narrow: ${texts.join('; ')}`,
    at: ['pattern', 'groups', fields.indexOf(first), 'bits'],
    short: { of: `numbers of the field ${first.field}`, needed: wanted[first.field], has: 2 ** first.bits - 1 },
    changes: [
      {
        path: ['pattern', 'groups'],
        value: wider,
        words: `write \`groups: [${wider.map(({ field, bits }) => `{field: ${field}, bits: ${bits}}`).join(', ')}]\``,
      },
    ],
  };
}

/** An earlier plan whose groups have no room for what is asked for now. */
export function outgrownGroups(
  networks: readonly NetworkDemand[],
  need: PatternNeed,
  earlier: Pattern,
  { request }: Demand,
): Refusal {
  const names = networks.map(({ raw }) => raw.name);
  const moves = [...(request.moves ?? []), ...names];
  const units = largest(earlier, 'unit');
  const streams = largest(earlier, 'stream');
  const short: Shortage | undefined =
    need.units > units
      ? { of: 'unit numbers in groups', needed: need.units, has: units }
      : need.streams > streams
        ? { of: 'streams of one box in groups', needed: need.streams, has: streams }
        : undefined;
  return {
    what:
      short === undefined
        ? `the groups of ${listNames(names)} no longer fit how the earlier plan makes them up`
        : `the earlier plan has room in groups of ${listNames(names)} for units up to ${units} and ${counted(streams, 'stream')} of each, and units up to ${need.units} with up to ${counted(need.streams, 'stream')} are needed`,
    at: ['devices'],
    ...(short === undefined ? {} : { short }),
    changes: [
      {
        path: ['moves'],
        value: moves,
        words: `let the groups of ${names.join(' and ')} move: \`moves: [${moves.join(', ')}]\``,
      },
    ],
  };
}
