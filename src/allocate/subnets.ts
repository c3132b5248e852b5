/** Blocks of networks and subnets of VLANs: sized for hosts, growth and DHCP, and clear of everyone else. */
import { hostsPerSubnet4 } from '../model/hosts/index.js';
import { formatAddress } from '../values/address.js';
import type { Clear } from './clear.js';
import { isSecond, type Demand, type NetworkDemand, type VlanDemand, type VlanPair } from './demand.js';
import { blockOf, sizeOf, type Block, type Kept } from './kept.js';
import type { Layout } from './layout.js';
import type { HostNumbering } from './pattern.js';
import { firstClear, largestClear, rangeSet, type NumberRange } from './ranges.js';
import { isRefused, refused, type Refused, type RequestPath } from './refusal.js';
import { outgrown, shortOfAddresses } from './short-addresses.js';
import { cidr } from './wider.js';

export interface Subnet extends Block {
  /** Numbers in it that DHCP hands out, counted from its first address. */
  readonly dhcp: NumberRange | undefined;
}

export interface Subnets {
  readonly blocks: ReadonlyMap<NetworkDemand, Block>;
  readonly subnets: ReadonlyMap<VlanDemand, Subnet>;
}

export interface SubnetContext {
  readonly demand: Demand;
  readonly clear: Clear;
  readonly kept: Kept | undefined;
  readonly layout: Layout;
  readonly hosts: HostNumbering;
  /** Fixed addresses, by VLAN. */
  readonly anchors: ReadonlyMap<VlanDemand, readonly { readonly address: number; readonly at: RequestPath }[]>;
}

/** How many addresses a pair of VLANs needs, network and broadcast address included (RFC 1878 Table 1-2). */
export interface SubnetNeed {
  readonly bits: number;
  /** Numbers up to this one are for the gateway, switches and hosts. */
  readonly top: number;
  readonly dhcp: number;
}

/** The need of a pair of VLANs. A tenth stays free, as `subnets/nearly-full` asks. */
export function needOf(pair: VlanPair, { demand, layout, hosts }: SubnetContext): SubnetNeed {
  const reserved = layout.firstUnit - 1;
  let top = reserved;
  let fixed = Math.max(3, ...pair.vlans.map(({ network }) => network.switches.length + 1));
  let places = 0;
  let asking = 0;
  for (const line of demand.lines) {
    const ends = line.kind.interfaces.filter(({ vlan }) => pair.vlans.includes(vlan));
    if (ends.length === 0) continue;
    if (ends.some(({ raw }) => raw.dhcp === true)) asking += line.count + line.spare;
    if (ends.every(({ raw }) => raw.dhcp === true)) continue;
    places += line.count + line.spare;
    fixed += line.count;
    top = Math.max(top, layout.blocks.get(line)?.at(-1)?.last ?? 0, layout.last > layout.lastPlanned ? layout.last : 0);
  }
  if (hosts === 'place') top = reserved + places;
  const dhcp = Math.max(asking, ...pair.vlans.map((vlan) => vlan.dhcp));
  let bits = 3;
  while (2 ** bits < top + dhcp + 2) bits++;
  while ((fixed + dhcp) * 10 >= hostsPerSubnet4(32 - bits) * 9) bits++;
  return { bits, top, dhcp };
}

/** Blocks and subnets for all networks, or what they lack. */
export function planSubnets(context: SubnetContext): Subnets | Refused {
  const { demand, kept, clear } = context;
  const moves = new Set(demand.request.moves ?? []);
  const blocks = new Map<NetworkDemand, Block>();
  const subnets = new Map<VlanDemand, Subnet>();
  const stated = new Map(demand.networks.map((network) => [network, blockOf(network.raw.addresses)] as const));
  for (const { raw, index } of demand.networks)
    if (raw.addresses !== undefined && blockOf(raw.addresses) === undefined)
      return refused({
        what: `\`${raw.addresses}\` is no block of IPv4 addresses`,
        at: ['networks', index, 'addresses'],
        changes: [
          { path: ['networks', index, 'addresses'], value: undefined, words: 'leave it out, one is picked then' },
        ],
      });
  const own: NumberRange[] = [];
  for (const network of demand.networks) {
    const block = moves.has(network.raw.name) ? undefined : kept?.addressBlocks.get(network.raw.name);
    if (block === undefined) continue;
    blocks.set(network, block);
    own.push(rangeOfBlock(block));
  }
  for (const network of demand.networks) {
    if (isSecond(network)) continue;
    const sides = network.twin === undefined ? [network] : [network, network.twin];
    const pairs = demand.pairs.filter(({ vlans }) => vlans.some((vlan) => sides.includes(vlan.network)));
    const needs = new Map(pairs.map((pair) => [pair, needOf(pair, context)]));
    const total = [...needs.values()].reduce((sum, { bits }) => sum + 2 ** bits, 0);
    const least = Math.ceil(Math.log2(total));
    for (const side of sides) {
      if (blocks.has(side)) continue;
      const pool = stated.get(side);
      const sharers = [...stated.values()].filter(
        (other) => other !== undefined && pool !== undefined && meet(rangeOfBlock(other), rangeOfBlock(pool)),
      ).length;
      const anchor = side.vlans.flatMap((vlan) => context.anchors.get(vlan) ?? [])[0];
      const carved: Carved =
        pool !== undefined && sharers === 1
          ? { block: pool }
          : carve(pool, sharers, least, own, [...stated.values()], clear, anchor?.address);
      const { block } = carved;
      if (block === undefined && anchor !== undefined)
        return refused({
          what: `${formatAddress(anchor.address)} can't be kept: network ${side.raw.name} needs the /${32 - least} around it, and another network has a part of that`,
          at: anchor.at,
          changes: [{ path: anchor.at.slice(0, 2), value: undefined, words: 'take this fixed number out' }],
        });
      if (block === undefined || 32 - block.length < least) {
        const parts = [...needs].map(([pair, { bits }]) => ({ pair, bits }));
        const shortage = { network: side, block: block ?? pool, parts };
        const { largest: clear } = carved;
        return refused(shortOfAddresses(clear === undefined ? shortage : { ...shortage, clear }, demand, kept));
      }
      blocks.set(side, block);
      own.push(rangeOfBlock(block));
    }
    const placed = place(sides, pairs, needs, blocks, context);
    if (isRefused(placed)) return placed;
    for (const [vlan, subnet] of placed.subnets) subnets.set(vlan, subnet);
  }
  return { blocks, subnets };
}

/** RFC 1918 §3; the upper part of 10/8 first, because the lower is what everybody starts with. */
const POOLS: readonly NumberRange[] = [
  { first: 0x0a100000, last: 0x0affffff },
  { first: 0x0a000000, last: 0x0a0fffff },
  { first: 0xac100000, last: 0xac1fffff },
  { first: 0xc0a80000, last: 0xc0a8ffff },
];

/** A block, or the size of the largest clear piece where there is none so large. */
interface Carved {
  readonly block?: Block;
  readonly largest?: number;
}

/** A /16 where it can be had, so that the second octet is the network; else what is needed. */
function carve(
  pool: Block | undefined,
  sharers: number,
  least: number,
  own: readonly NumberRange[],
  stated: readonly (Block | undefined)[],
  clear: Clear,
  anchor: number | undefined,
): Carved {
  const others = stated.flatMap((block) =>
    block === undefined || (pool !== undefined && meet(rangeOfBlock(block), rangeOfBlock(pool)))
      ? []
      : [rangeOfBlock(block)],
  );
  const taken = rangeSet([...own, ...others]);
  const ranges = pool === undefined ? POOLS : [rangeOfBlock(pool)];
  const sets = [
    { set: taken, shift: 0 },
    { set: clear.blocks, shift: 0 },
  ];
  const share = pool === undefined ? 16 : Math.floor(32 - pool.length - Math.log2(Math.max(1, sharers)));
  for (const bits of [...new Set([Math.max(least, Math.min(16, share)), least])]) {
    if (anchor !== undefined) {
      const first = Math.floor(anchor / 2 ** bits) * 2 ** bits;
      return taken.meets(first, first + 2 ** bits - 1) === undefined ? { block: { first, length: 32 - bits } } : {};
    }
    for (const range of ranges) {
      const first = firstClear(range, 2 ** bits, sets);
      if (first !== undefined) return { block: { first, length: 32 - bits } };
    }
  }
  return { largest: largestClear(ranges, least, sets) };
}

function place(
  sides: readonly NetworkDemand[],
  pairs: readonly VlanPair[],
  needs: ReadonlyMap<VlanPair, SubnetNeed>,
  blocks: ReadonlyMap<NetworkDemand, Block>,
  context: SubnetContext,
): { readonly subnets: ReadonlyMap<VlanDemand, Subnet> } | Refused {
  const { kept, clear, demand } = context;
  const moves = new Set(demand.request.moves ?? []);
  const bases = sides.map((side) => blocks.get(side)?.first ?? 0);
  const room = Math.min(...sides.map((side) => sizeOf(blocks.get(side)?.length ?? 32)));
  const taken: NumberRange[] = [];
  const subnets = new Map<VlanDemand, Subnet>();
  const put = (pair: VlanPair, offset: number, bits: number): void => {
    const { dhcp } = needs.get(pair) ?? { dhcp: 0 };
    taken.push({ first: offset, last: offset + 2 ** bits - 1 });
    for (const vlan of pair.vlans) {
      const base = bases[sides.indexOf(vlan.network)] ?? 0;
      const pool = dhcp === 0 ? undefined : { first: 2 ** bits - 1 - dhcp, last: 2 ** bits - 2 };
      subnets.set(vlan, { first: base + offset, length: 32 - bits, dhcp: pool });
    }
  };
  const isFree = (offset: number, bits: number): boolean =>
    offset >= 0 &&
    offset + 2 ** bits <= room &&
    rangeSet(taken).meets(offset, offset + 2 ** bits - 1) === undefined &&
    bases.every((base) => clear.blocks.meets(base + offset, base + offset + 2 ** bits - 1) === undefined);
  const open: VlanPair[] = [];
  for (const pair of pairs) {
    const need = needs.get(pair) ?? { bits: 3, top: 0, dhcp: 0 };
    const [vlan] = pair.vlans;
    if (vlan === undefined) continue;
    const base = bases[sides.indexOf(vlan.network)] ?? 0;
    const earlier = pair.vlans.some(({ name, network }) => moves.has(name) || moves.has(network.raw.name))
      ? undefined
      : kept?.vlans.get(vlan.name)?.subnet;
    if (earlier !== undefined) {
      if (32 - earlier.length < need.bits) {
        const blocks = pair.vlans.flatMap((one) => kept?.vlans.get(one.name)?.subnet ?? []);
        return refused(outgrown(pair, blocks, need.bits, demand));
      }
      put(pair, earlier.first - base, 32 - earlier.length);
      continue;
    }
    const anchored = pair.vlans.flatMap((one) =>
      (context.anchors.get(one) ?? []).map(({ address, at }) => ({
        at,
        address,
        network: one.network,
        offset: Math.floor((address - (bases[sides.indexOf(one.network)] ?? 0)) / 2 ** need.bits) * 2 ** need.bits,
      })),
    );
    const [anchor, ...others] = anchored;
    if (anchor === undefined) {
      open.push(pair);
      continue;
    }
    const apart = others.find(({ offset }) => offset !== anchor.offset);
    const wrong = apart ?? (isFree(anchor.offset, need.bits) ? undefined : anchor);
    if (wrong !== undefined)
      return refused({
        what: `${formatAddress(wrong.address)} can't be kept: ${
          apart === undefined
            ? anchor.offset < 0 || anchor.offset + 2 ** need.bits > room
              ? `it lies outside ${cidr(blocks.get(anchor.network) ?? { first: 0, length: 0 })}, the block of network ${anchor.network.raw.name}`
              : `the /${32 - need.bits} around it, the subnet of VLAN ${vlan.name}, is not clear`
            : `it is not in one subnet with ${formatAddress(anchor.address)}, and VLAN ${vlan.name} has one`
        }`,
        at: wrong.at,
        changes: [{ path: wrong.at.slice(0, 2), value: undefined, words: 'take this fixed number out' }],
      });
    put(pair, anchor.offset, need.bits);
  }
  // A third octet of 10, 20, 30 … tells VLANs apart where there is room for it.
  const spaced = room >= 2 ** 16 && pairs.length <= 25 && [...needs.values()].every(({ bits }) => bits <= 8);
  const largestFirst = open.toSorted((a, b) => (needs.get(b)?.bits ?? 0) - (needs.get(a)?.bits ?? 0));
  for (const pair of spaced ? open : largestFirst) {
    const need = needs.get(pair) ?? { bits: 3, top: 0, dhcp: 0 };
    const wished = (pairs.indexOf(pair) + 1) * 10 * 256;
    const sets = [{ set: rangeSet(taken), shift: 0 }, ...bases.map((base) => ({ set: clear.blocks, shift: base }))];
    const offset =
      spaced && isFree(wished, need.bits) ? wished : firstClear({ first: 0, last: room - 1 }, 2 ** need.bits, sets);
    const [side] = sides;
    if (offset === undefined && side !== undefined) {
      const tight = sides.toSorted((a, b) => (blocks.get(b)?.length ?? 0) - (blocks.get(a)?.length ?? 0))[0] ?? side;
      const parts = [...needs].map(([one, { bits }]) => ({ pair: one, bits }));
      const part = { pair, bits: need.bits };
      const largest = largestClear([{ first: 0, last: room - 1 }], need.bits, sets);
      const shortage = { network: tight, block: blocks.get(tight), parts, part, clear: largest };
      return refused(shortOfAddresses(shortage, demand, kept));
    }
    put(pair, offset ?? 0, need.bits);
  }
  return { subnets };
}

export function rangeOfBlock({ first, length }: Block): NumberRange {
  return { first, last: first + sizeOf(length) - 1 };
}

function meet(a: NumberRange, b: NumberRange): boolean {
  return a.first <= b.last && b.first <= a.last;
}
