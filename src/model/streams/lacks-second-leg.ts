/** Streams with one leg where their like have two. */
import type { Device, Essence, Interface, Kind, Leg, Network, Plan, Rig, Sender } from '../../plan/types.js';
import { pairedNetworks } from '../vlans/index.js';

/** What the like of a stream do: so many of all have two legs. */
export type Habit =
  /** Streams of one name on devices of one kind. */
  | { readonly of: 'kind'; readonly kind: string; readonly stream: string; readonly two: number; readonly all: number }
  /** Streams of one essence in a rig. */
  | { readonly of: 'rig'; readonly essence: Essence; readonly two: number; readonly all: number };

export interface LacksSecondLeg {
  readonly sender: Sender;
  readonly device: Device;
  readonly leg: Leg;
  /** Where a second leg could go. */
  readonly spare: Interface | undefined;
  readonly habit: Habit;
}

/** So few streams tell nothing about what a rig does. */
const FEW_STREAMS = 5;

/**
 * Streams with one leg where most of their kind have two; or the rig's percentage of their essence in it, and their
 * device has an interface for a second one.
 */
export function lacksSecondLeg(plan: Plan, percentOf: (rig: Rig) => number): readonly LacksSecondLeg[] {
  const single = plan.senders.flatMap((sender) => {
    const [leg, another] = sender.legs;
    const { device } = sender;
    return device === undefined || leg === undefined || another !== undefined ? [] : [{ sender, device, leg }];
  });
  if (single.length === 0) return [];
  const peers = countPeers(plan);
  const rigs = countEssences(plan);
  const paired = pairedNetworks(plan);
  return single.flatMap((one): readonly LacksSecondLeg[] => {
    const { kind } = one.device;
    const { name, rig, essence } = one.sender;
    const spare = spareInterface(one.device, one.leg, paired);
    const like = kind === undefined ? undefined : peers.get(kind)?.get(name);
    if (kind !== undefined && like !== undefined && like.two > like.one)
      return [{ ...one, spare, habit: { of: 'kind', kind: kind.name, stream: name, ...habitOf(like) } }];
    const alike = essence === undefined ? undefined : rigs.get(rig)?.get(essence);
    if (essence === undefined || alike === undefined || spare === undefined) return [];
    const { two, all } = habitOf(alike);
    return all < FEW_STREAMS || (two / all) * 100 < percentOf(rig)
      ? []
      : [{ ...one, spare, habit: { of: 'rig', essence, two, all } }];
  });
}

interface Count {
  one: number;
  two: number;
}

function habitOf({ one, two }: Count): { readonly two: number; readonly all: number } {
  return { two, all: one + two };
}

function countPeers({ senders }: Plan): ReadonlyMap<Kind, ReadonlyMap<string, Count>> {
  const found = new Map<Kind, Map<string, Count>>();
  for (const { device, name, legs } of senders)
    if (device?.kind !== undefined) count(found, device.kind, name, legs.length);
  return found;
}

function countEssences({ senders }: Plan): ReadonlyMap<Rig, ReadonlyMap<Essence, Count>> {
  const found = new Map<Rig, Map<Essence, Count>>();
  for (const { rig, essence, legs } of senders) if (essence !== undefined) count(found, rig, essence, legs.length);
  return found;
}

function count<K, L>(found: Map<K, Map<L, Count>>, outer: K, inner: L, legs: number): void {
  const counts = found.get(outer) ?? new Map<L, Count>();
  found.set(outer, counts);
  const one = counts.get(inner) ?? { one: 0, two: 0 };
  counts.set(inner, one);
  if (legs === 1) one.one++;
  else if (legs > 1) one.two++;
}

/** An interface of the device on a network that carries second legs of this one's streams. */
function spareInterface(
  { interfaces }: Device,
  leg: Leg,
  paired: ReadonlyMap<Network, ReadonlySet<Network>>,
): Interface | undefined {
  const others = leg.network === undefined ? undefined : paired.get(leg.network);
  return others === undefined
    ? undefined
    : interfaces.find(({ network }) => network !== undefined && others.has(network));
}
