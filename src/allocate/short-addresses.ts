/** Why addresses do not suffice: which block, what it has to hold, what it holds, and what to write instead. */
import { agree, counted } from '../words/counts.js';
import { listNames } from '../words/lists.js';
import { growthPercent, type Demand, type NetworkDemand, type VlanPair } from './demand.js';
import { blockOf, sizeOf, type Block, type Kept } from './kept.js';
import type { Refusal, RequestChange, RequestPath } from './refusal.js';
import { bothWider, cidr, widened } from './wider.js';

/** Subnets of a pair of VLANs, and how many bits of addresses they need. */
export interface SubnetPart {
  readonly pair: VlanPair;
  readonly bits: number;
}

/** What a block of a network has to hold and does not. */
export interface AddressShortage {
  readonly network: NetworkDemand;
  /** The block; undefined where none could be picked. */
  readonly block: Block | undefined;
  /** Subnets of the network. */
  readonly parts: readonly SubnetPart[];
  /** The one that finds no room; absent where the block as a whole does not. */
  readonly part?: SubnetPart;
  /** Size of the largest clear piece; absent where all of the block is clear, and too small. */
  readonly clear?: number;
}

export function shortOfAddresses(
  { network, block, parts, part, clear }: AddressShortage,
  demand: Demand,
  kept: Kept | undefined,
): Refusal {
  const at: RequestPath = ['networks', network.index, 'addresses'];
  const total = parts.reduce((sum, { bits }) => sum + 2 ** bits, 0);
  const { name } = network.raw;
  const whole = Math.ceil(Math.log2(total));
  const needed = part !== undefined ? 2 ** part.bits : clear === undefined ? total : 2 ** whole;
  const has = clear ?? (block === undefined ? 0 : sizeOf(block.length));
  const least = block === undefined ? whole : Math.max(whole, 32 - block.length + 1);
  const subject =
    part !== undefined
      ? `VLAN ${namesOf(part, network)} needs ${sized(part.bits)} in one piece`
      : block !== undefined && clear === undefined
        ? `network ${name} needs ${counted(total, 'address', 'addresses')} (${parts.map((one) => `${namesOf(one, network)} a /${32 - one.bits}`).join(', ')})`
        : `network ${name} needs ${sized(whole)} in one piece`;
  const place = block === undefined ? listNames(POOL_NAMES) : cidr(block);
  const there =
    block !== undefined && clear === undefined
      ? `its block ${place} has ${has}`
      : has === 0
        ? `nothing is clear in ${place}`
        : `the largest clear piece of ${place} is ${sized(Math.log2(has))}`;
  return {
    what: `${subject}, and ${there}`,
    at: block === undefined ? ['networks', network.index] : at,
    short: {
      of:
        part === undefined
          ? `addresses of network ${name}`
          : `addresses for VLAN ${namesOf(part, network)} in ${place}`,
      needed,
      has,
    },
    changes: changesFor(network, block, least, demand, kept),
  };
}

const POOL_NAMES = ['10.0.0.0/8', '172.16.0.0/12', '192.168.0.0/16'];

/** The VLAN of a pair that is in the network. */
function namesOf({ pair }: SubnetPart, network: NetworkDemand): string {
  return pair.vlans.find((vlan) => vlan.network === network)?.name ?? pair.vlans.map(({ name }) => name).join(' and ');
}

/** `a /26 (64 addresses)`. */
function sized(bits: number): string {
  return `a /${32 - bits} (${counted(2 ** bits, 'address', 'addresses')})`;
}

const MOST_CHANGES = 6;

function changesFor(
  network: NetworkDemand,
  block: Block | undefined,
  least: number,
  demand: Demand,
  kept: Kept | undefined,
): readonly RequestChange[] {
  const { request } = demand;
  const at: RequestPath = ['networks', network.index, 'addresses'];
  const changes: RequestChange[] = [];
  if (kept?.addressBlocks.has(network.raw.name) === true) {
    const names = [network, network.twin].flatMap((one) => (one === undefined ? [] : [one.raw.name]));
    const moves = [...(request.moves ?? []), ...names];
    changes.push({ path: ['moves'], value: moves, words: `let the network move: \`moves: [${moves.join(', ')}]\`` });
  }
  if (block !== undefined) {
    for (let bits = least; bits <= 24; bits++) {
      const text = widened(block, bits);
      changes.push({ path: at, value: text, words: `write \`addresses: ${text}\`` });
      const other = network.twin === undefined ? undefined : blockOf(network.twin.raw.addresses);
      if (network.twin !== undefined && other !== undefined && 32 - other.length < bits)
        changes.push(bothWider(demand, network, network.twin, 'addresses', text, widened(other, bits)));
      if (changes.length >= MOST_CHANGES) break;
    }
    changes.push({ path: at, value: undefined, words: 'leave `addresses` out, so that a block is picked' });
  }
  if (growthPercent(request) > 0) changes.push({ path: ['growth'], value: 0, words: 'keep nothing free: `growth: 0`' });
  return [...changes, ...lessClear(request.keepClear?.addresses, 'addresses')];
}

/** Entries that are kept clear of, each taken out: what may be used after all, only people know. */
export function lessClear(texts: readonly string[] | undefined, key: 'addresses' | 'groups'): readonly RequestChange[] {
  return (texts ?? []).slice(0, MOST_CHANGES).map((text, index) => ({
    path: ['keepClear', key, index],
    value: undefined,
    words: `if \`${text}\` may be used after all, take it out of \`keepClear\``,
  }));
}

/** VLANs that no longer fit the subnets an earlier plan gave them. */
export function outgrown({ vlans }: VlanPair, earlier: readonly Block[], bits: number, demand: Demand): Refusal {
  const names = vlans.map(({ name }) => name);
  const boxes = demand.devices.filter(({ line }) =>
    line.kind.interfaces.some(({ vlan }) => vlans.includes(vlan)),
  ).length;
  const [name = ''] = names;
  const { moves = [] } = demand.request;
  const has = Math.min(...earlier.map(({ length }) => sizeOf(length)));
  return {
    what: `${names.join(' and ')} ${agree(names.length, 'has', 'have')} outgrown ${listNames(earlier.map(cidr))}: ${sized(bits)} is needed, and an earlier plan gave ${has}`,
    at: ['networks', Math.min(demand.networks.length - 1, vlans[0]?.network.index ?? 0)],
    short: { of: `addresses of VLAN ${name}`, needed: 2 ** bits, has },
    changes: [
      {
        path: ['moves'],
        value: [...moves, ...names],
        words: `let ${names.join(' and ')} move, ${counted(boxes, 'box')} to touch: \`moves: [${[...moves, ...names].join(', ')}]\``,
      },
    ],
  };
}
