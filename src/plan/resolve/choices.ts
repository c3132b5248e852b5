/** The streams a receiver switches between: a list of them, or a set by what they have in common. */
import type { RawStreamSet } from '../../read/raw-plan.js';
import type { Device, Kind, Origin, Referrer, Rig, Sender } from '../types.js';
import { listOrigin, type ResolveContext, type Scope } from './context.js';

/** Where names of streams, and of what they are chosen by, lead. */
export interface StreamPlaces {
  readonly devices: Scope<Device>;
  readonly kinds: Scope<{ readonly kind: Kind }>;
  readonly streams: Scope<Sender>;
}

/** Who switches, and where it says between what. */
interface Chooser {
  readonly device: Device;
  readonly at: Origin;
  readonly by: Referrer;
}

/** The streams of a set, in plan order. */
export type Sets = (set: RawStreamSet, chooser: Chooser) => readonly Sender[];

/** Each stream once, in the order of the list or of the plan. */
export function sendersOf(
  takes: readonly string[] | RawStreamSet,
  chooser: Chooser,
  find: (at: Origin, key: number, text: string) => Sender | undefined,
  inSets: Sets,
): readonly Sender[] {
  if (!isList(takes)) return inSets(takes, chooser);
  return [...new Set(takes.flatMap((text, index) => find(chooser.at, index, text) ?? []))];
}

/** Finds the streams of sets; inputs of one wording share the search. */
export function createSets(
  places: StreamPlaces & { readonly senders: readonly Sender[] },
  context: ResolveContext,
): Sets {
  const known = new Map<Rig, Map<string, readonly Sender[]>>();
  return (set, chooser) => {
    const { rig } = chooser.device;
    const from = sourcesOf(set, places, chooser, context);
    const own = known.get(rig) ?? new Map<string, readonly Sender[]>();
    known.set(rig, own);
    const key = JSON.stringify(set);
    const all = own.get(key) ?? places.senders.filter((sender) => isIn(sender, set, from, rig));
    own.set(key, all);
    return all.filter(({ device }) => device !== chooser.device);
  };
}

/** Devices and kinds that the streams come from; undefined where the set names none. */
interface Sources {
  readonly devices: ReadonlySet<Device>;
  readonly kinds: ReadonlySet<Kind>;
}

function sourcesOf(
  set: RawStreamSet,
  { devices, kinds }: StreamPlaces,
  { device: { rig }, at, by }: Chooser,
  context: ResolveContext,
): Sources | undefined {
  if (set.devices === undefined && set.kinds === undefined) return undefined;
  const all = <T>(scope: Scope<T>, key: 'devices' | 'kinds'): readonly T[] =>
    (set[key] ?? []).flatMap((text, index) => context.find(scope, rig, listOrigin(at, key), index, text, by) ?? []);
  return {
    devices: new Set(all(devices, 'devices')),
    kinds: new Set(all(kinds, 'kinds').map(({ kind }) => kind)),
  };
}

function isIn(sender: Sender, set: RawStreamSet, from: Sources | undefined, rig: Rig): boolean {
  const { device, essence, name } = sender;
  if (set.essence !== undefined && set.essence !== essence) return false;
  if (set.sender !== undefined && set.sender !== name) return false;
  if (set.area !== undefined && set.area !== device?.area) return false;
  if (from === undefined) return sender.rig === rig;
  return (
    device !== undefined && (from.devices.has(device) || (device.kind !== undefined && from.kinds.has(device.kind)))
  );
}

function isList(takes: readonly string[] | RawStreamSet): takes is readonly string[] {
  return Array.isArray(takes);
}
