/**
 * New groups for streams that have to move. Whole blocks move by one step where they can, so that the last numbers and
 * the order within a block stay what the crew knows; all legs of a stream move by the same step, so that the second leg
 * is still told from the first.
 */
import { inPrefix, inRange, isMulticast, type Address, type AddressRange } from '../values/address.js';
import type { Leg, Plan, Rig, Sender } from '../plan/types.js';
import {
  aliasedClockGroup,
  commonRanges,
  ethernetAddress,
  floodedEthernetAddress,
  groupFitness,
} from '../model/groups/index.js';
import type { Model } from '../model/model.js';

export interface GroupMove {
  readonly leg: Leg;
  readonly group: Address;
}

export interface GroupMoves {
  readonly moves: readonly GroupMove[];
  /** Streams for which the conventions have no room. */
  readonly stuck: readonly Sender[];
}

export function moveGroups(model: Model, senders: ReadonlySet<Sender>): GroupMoves {
  const space = createSpace(model);
  const moves: GroupMove[] = [];
  const stuck: Sender[] = [];
  const commit = (bundle: readonly Sender[], step: number): void => {
    for (const sender of bundle) {
      for (const leg of movable(sender)) {
        const group = moved(leg.group, step);
        space.take(group);
        moves.push({ leg, group });
      }
    }
  };
  for (const bundle of bundlesOf(senders)) {
    const whole = stepFor(bundle, space);
    if (whole !== undefined) {
      commit(bundle, whole);
      continue;
    }
    for (const block of blocksOf(bundle)) {
      const step = stepFor(block, space);
      if (step !== undefined) {
        commit(block, step);
        continue;
      }
      for (const sender of block) {
        const own = stepAnywhere(sender, space);
        if (own === undefined) stuck.push(sender);
        else commit([sender], own);
      }
    }
  }
  return { moves, stuck };
}

interface GroupLeg extends Leg {
  readonly group: Address;
}

/** Legs on multicast; a stream known from several descriptions moves as one. */
function movable({ legs }: Sender): readonly GroupLeg[] {
  return legs.filter((leg): leg is GroupLeg => leg.group !== undefined && isMulticast(leg.group));
}

/** Streams whose numbers the crew reads as one series: of one rig, in one VLAN or network, of one essence. */
function bundlesOf(senders: ReadonlySet<Sender>): readonly (readonly Sender[])[] {
  const byRig = new Map<Rig, Map<object | undefined, Map<string, Sender[]>>>();
  for (const sender of senders) {
    const first = sender.legs[0];
    const byPlace = kept(byRig, sender.rig, () => new Map<object | undefined, Map<string, Sender[]>>());
    const byEssence = kept(byPlace, first?.vlan ?? first?.network, () => new Map<string, Sender[]>());
    kept(byEssence, sender.essence ?? '', (): Sender[] => []).push(sender);
  }
  return [...byRig.values()].flatMap((byPlace) =>
    [...byPlace.values()].flatMap((byEssence) => [...byEssence.values()]),
  );
}

/** Parts of a bundle that share all but the last number of the group. */
function blocksOf(bundle: readonly Sender[]): readonly (readonly Sender[])[] {
  const blocks = new Map<Address, Sender[]>();
  for (const sender of bundle) {
    const group = movable(sender)[0]?.group ?? 0;
    kept(blocks, typeof group === 'number' ? group >>> 8 : group >> 8n, (): Sender[] => []).push(sender);
  }
  return [...blocks.values()];
}

/** Steps that keep the last number, the third first: 239.192.31.11 to 239.192.63.11. */
const STEPS: readonly number[] = [
  ...Array.from({ length: 255 }, (_, index) => (index + 1) * 256).flatMap((step) => [step, -step]),
  ...Array.from({ length: 63 }, (_, index) => (index + 1) * 65_536).flatMap((step) => [step, -step]),
];

/** The smallest step that takes all streams to groups that may be used: best outside the other conventions' ranges. */
function stepFor(bundle: readonly Sender[], space: Space): number | undefined {
  for (const outside of [true, false]) {
    const step = STEPS.find((one) => fits(bundle, one, space, outside));
    if (step !== undefined) return step;
  }
  return undefined;
}

function fits(bundle: readonly Sender[], step: number, space: Space, outside: boolean): boolean {
  return bundle.every((sender) => movable(sender).every((leg) => space.free(leg, moved(leg.group, step), outside)));
}

/** Any step for one stream, the lowest group its conventions allow first. */
function stepAnywhere(sender: Sender, space: Space): number | undefined {
  const legs = movable(sender);
  const [first] = legs;
  if (first === undefined) return undefined;
  for (const outside of [true, false]) {
    for (const range of space.ranges(first)) {
      const cursor = space.cursor(range, outside, legs);
      for (; cursor.at <= range.last; cursor.at = moved(cursor.at, 1)) {
        const foreign = outside ? space.foreign(first, cursor.at) : undefined;
        if (foreign !== undefined) {
          cursor.at = foreign.last;
          continue;
        }
        const step = distance(first.group, cursor.at);
        if (step !== 0 && legs.every((leg) => space.free(leg, moved(leg.group, step), outside))) return step;
      }
    }
  }
  return undefined;
}

interface Space {
  /** Whether a leg may use a group: nobody does, nobody shares its multicast MAC, conventions and practice allow it. */
  readonly free: (leg: GroupLeg, group: Address, outside: boolean) => boolean;
  /** The range of another rig's conventions that a group lies in. */
  readonly foreign: (leg: GroupLeg, group: Address) => AddressRange | undefined;
  readonly take: (group: Address) => void;
  /** Where a leg may go at all, in the order to try. */
  readonly ranges: (leg: GroupLeg) => readonly AddressRange[];
  /** Where the search of a range goes on: what was not free once is not free later, for legs as far apart. */
  readonly cursor: (range: AddressRange, outside: boolean, legs: readonly GroupLeg[]) => { at: Address };
}

function createSpace(model: Model): Space {
  const { plan, heldTo } = model;
  const taken = takenGroups(plan);
  const foreign = new Map<Rig, readonly AddressRange[]>();
  const known = new Map<object, readonly AddressRange[]>();
  const cursors = new Map<string, { at: Address }>();
  const held = (leg: GroupLeg): readonly AddressRange[] => {
    const promises = heldTo(leg);
    return promises.length === 0 ? [] : kept(known, promises, () => commonRanges(promises, leg.group));
  };
  const othersOf = (rig: Rig): readonly AddressRange[] =>
    kept(foreign, rig, () =>
      plan.rigs
        .filter((one) => one !== rig)
        .flatMap(({ conventions }) => conventions.groups.flatMap(({ ranges }) => ranges)),
    );
  const foreignRange = ({ sender }: GroupLeg, group: Address): AddressRange | undefined =>
    othersOf(sender.rig).find((range) => inRange(group, range));
  return {
    free: (leg, group, outside) => {
      const { rig } = leg.sender;
      if (!isMulticast(group) || taken.has(ethernetAddress(group)) || floodedEthernetAddress(group)) return false;
      if (typeof group === 'number' && ((group & 0xff) === 0 || aliasedClockGroup(group) !== undefined)) return false;
      const ranges = held(leg);
      if (ranges.length > 0 && !ranges.some((range) => inRange(group, range))) return false;
      if (ranges.length === 0 && !near(group, leg.group)) return false;
      if (outside && foreignRange(leg, group) !== undefined) return false;
      if (sourceSpecific(group, rig) !== sourceSpecific(leg.group, rig)) return false;
      return groupFitness(group, rig.conventions, rig.practice) === 'usable';
    },
    foreign: foreignRange,
    take: (group) => taken.add(ethernetAddress(group)),
    ranges: (leg) => {
      const ranges = held(leg);
      return ranges.length > 0 ? ranges : [neighbourhood(leg.group)];
    },
    cursor: (range, outside, legs) => {
      const gaps = legs.map(({ group }) => distance(legs[0]?.group ?? group, group)).join(' ');
      return kept(cursors, `${range.first}-${range.last} ${String(outside)} ${gaps}`, () => ({ at: range.first }));
    },
  };
}

/** Multicast MACs of every group that is sent, or that a receiver joins. */
function takenGroups(plan: Plan): Set<number> {
  const taken = new Set<number>();
  for (const { group } of plan.legs) if (group !== undefined) taken.add(ethernetAddress(group));
  for (const leg of plan.receiverLegs)
    if (leg.groupStated && leg.group !== undefined) taken.add(ethernetAddress(leg.group));
  return taken;
}

function sourceSpecific(group: Address, rig: Rig): boolean {
  return rig.practice.sourceSpecific.some((prefix) => inPrefix(group, prefix));
}

/** Without a promise a stream stays in the /10 its group is in: 239.192.0.0/10 and the like (RFC 2365 §6.2 is a /14). */
function near(group: Address, old: Address): boolean {
  return inRange(group, neighbourhood(old));
}

function neighbourhood(group: Address): AddressRange {
  if (typeof group === 'number') {
    const first = (group & 0xffc00000) >>> 0;
    return { first, last: first + 0x3fffff };
  }
  const first = group & ~0xffffn;
  return { first, last: first + 0xffffn };
}

function moved(group: Address, step: number): Address {
  return typeof group === 'number' ? group + step : group + BigInt(step);
}

function distance(from: Address, to: Address): number {
  return typeof from === 'number' && typeof to === 'number' ? to - from : Number(BigInt(to) - BigInt(from));
}

function kept<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  let value = map.get(key);
  if (value === undefined) map.set(key, (value = make()));
  return value;
}
