/** What a plan to be must keep clear of: addresses, groups with all that share their multicast MAC, VLAN ids, names. */
import type { Plan, Practice } from '../plan/types.js';
import { isIPv4, parseAddress4, parseRange, rangeOf, type Address, type AddressRange } from '../values/address.js';
import { gatewaysOf } from '../model/hosts/index.js';
import { aliasedClockGroup, floodedEthernetAddress, groupFitness } from '../model/groups/index.js';
import { rangeSet, type NumberRange, type RangeSet } from './ranges.js';
import type { Refusal, RequestPath } from './refusal.js';
import type { RawRequest } from './request.js';

export interface Clear {
  /** Subnets and ranges of others: no subnet of the plan meets them. */
  readonly blocks: RangeSet;
  /** Single addresses of others: no host has one of them. */
  readonly addresses: ReadonlySet<number>;
  /** The low 23 bits of groups of others (RFC 1112 §6.4). */
  readonly groups: RangeSet;
  readonly vlanIds: ReadonlySet<number>;
  /** Whether a stream may have a group, whoever else uses it or not. */
  readonly usable: (group: number) => boolean;
}

/** All but the low 23 bits, which make the multicast MAC, are lost (RFC 1112 §6.4). */
export const LOW_23 = 2 ** 23;

/** What lies in the request's `keepClear` and in the plans it names; or what there can't be read. */
export function readClear(
  request: RawRequest,
  plans: readonly Plan[],
  practice: Practice,
): { readonly clear: Clear; readonly refusals: readonly Refusal[] } {
  const refusals: Refusal[] = [];
  const blocks: NumberRange[] = [];
  const addresses = new Set<number>();
  const groups: NumberRange[] = [];
  const vlanIds = new Set<number>();
  const { keepClear = {} } = request;
  readRanges(keepClear.addresses, ['keepClear', 'addresses'], 'an address, a block or a range', refusals, (range) => {
    if (range.first === range.last) addresses.add(range.first);
    else blocks.push(range);
  });
  readRanges(keepClear.groups, ['keepClear', 'groups'], 'a group, a block or a range', refusals, (range) => {
    groups.push(...low23(range));
  });
  (keepClear.vlanIds ?? []).forEach((text) => {
    const [first = 0, last = first] = String(text).split('-').map(Number);
    for (let id = first; id <= last && id <= 4095; id++) vlanIds.add(id);
  });
  for (const plan of plans) takePlan(plan, { blocks, addresses, groups, vlanIds });
  const conventions = {
    groups: [],
    groupMap: [],
    sourceMap: [],
    portOffset: undefined,
    autonomousSystem: undefined,
  } as const;
  const clear: Clear = {
    blocks: rangeSet(blocks),
    addresses,
    groups: rangeSet(groups),
    vlanIds,
    usable: (group) =>
      (group & 0xff) !== 0 &&
      !floodedEthernetAddress(group) &&
      aliasedClockGroup(group) === undefined &&
      group >>> 16 !== LIGHTING &&
      groupFitness(group, { ...conventions, prefixes: [], thresholds: {} }, practice) === 'usable',
  };
  return { clear, refusals };
}

/** 239.255/16, where lighting data has its universes (ANSI E1.31 §9.3.1). */
const LIGHTING = 0xefff;

/** The low 23 bits of a range of groups. */
export function low23({ first, last }: NumberRange): readonly NumberRange[] {
  if (last - first + 1 >= LOW_23) return [{ first: 0, last: LOW_23 - 1 }];
  const [from, to] = [first % LOW_23, last % LOW_23];
  return from <= to
    ? [{ first: from, last: to }]
    : [
        { first: from, last: LOW_23 - 1 },
        { first: 0, last: to },
      ];
}

interface Takings {
  readonly blocks: NumberRange[];
  readonly addresses: Set<number>;
  readonly groups: NumberRange[];
  readonly vlanIds: Set<number>;
}

function takePlan(plan: Plan, { blocks, addresses, groups, vlanIds }: Takings): void {
  const single = (address: Address | undefined): void => {
    if (address !== undefined && isIPv4(address)) addresses.add(address);
  };
  const group = (address: Address | undefined): void => {
    if (address !== undefined && isIPv4(address)) groups.push(...low23({ first: address, last: address }));
  };
  for (const vlan of plan.vlans) {
    if (vlan.id !== undefined) vlanIds.add(vlan.id);
    if (vlan.subnet !== undefined) blocks.push(...range4(rangeOf(vlan.subnet)));
    if (vlan.dhcp !== undefined) blocks.push(...range4(vlan.dhcp));
    for (const { address } of [...gatewaysOf(vlan), ...(vlan.igmp?.queriers ?? [])]) single(address);
  }
  for (const { address, prefixLength } of plan.interfaces) {
    single(address);
    if (address !== undefined && prefixLength !== undefined && isIPv4(address) && prefixLength >= 8)
      blocks.push({
        first: Math.floor(address / 2 ** (32 - prefixLength)) * 2 ** (32 - prefixLength),
        last: (Math.floor(address / 2 ** (32 - prefixLength)) + 1) * 2 ** (32 - prefixLength) - 1,
      });
  }
  for (const one of plan.switches) for (const { address } of one.addresses) single(address);
  for (const leg of plan.legs) {
    group(leg.group);
    single(leg.source);
    single(leg.unicast);
  }
  for (const leg of plan.receiverLegs) group(leg.group);
  for (const { sender } of plan.descriptions) for (const leg of sender.legs) group(leg.group);
  for (const { conventions } of plan.rigs)
    for (const range of conventions.groups.flatMap(({ ranges }) => ranges).flatMap(range4))
      if (range.last - range.first < LARGEST_PROMISE) groups.push(...low23(range));
}

/** Conventions that promise to stay within more than a /12 says what kind of group it uses, not which are its own. */
const LARGEST_PROMISE = 2 ** 20;

function range4({ first, last }: AddressRange): readonly NumberRange[] {
  return isIPv4(first) && isIPv4(last) ? [{ first, last }] : [];
}

function readRanges(
  texts: readonly string[] = [],
  path: RequestPath,
  wanted: string,
  refusals: Refusal[],
  take: (range: NumberRange) => void,
): void {
  texts.forEach((text, index) => {
    const single = parseAddress4(text);
    const range = single === undefined ? parseRange(text) : { first: single, last: single };
    const [found] = range === undefined ? [] : range4(range);
    if (found === undefined)
      refusals.push({ what: `\`${text}\` is not ${wanted} of IPv4`, at: [...path, index], changes: [] });
    else take(found);
  });
}
